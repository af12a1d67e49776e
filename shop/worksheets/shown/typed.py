"""A reading as its field shows it, and what a page is told of one that it sent."""

def as_typed(reading, unit):
    """What a field shows: as it was typed; a bare figure in another unit than the page's carries its own."""
    if reading.unit in ("", unit) or reading.value is None or not _is_bare(reading.raw):
        return reading.raw
    if reading.unit == "64ths":
        return f"{reading.raw}/64 in" if reading.raw.isdigit() else f"{reading.value / 25.4:.4f} in"
    return f"{reading.raw} {reading.unit}"


def _is_bare(raw):
    try:
        float(raw.replace(",", "."))
    except ValueError:
        return False
    return True


def place_id(place):
    """The name of a place on its page; `place` has a stage, a key and a string or None."""
    return "-".join(str(part) for part in (place.stage, place.key, place.string) if part)


STATES = {"saved": "saved", "withdrawn": "", "unreadable": "unreadable", "rival": "rival"}


def answer_of(saved, *, unit):
    """What a page is told of a reading that it sent: what became of it, and how its field stands now."""
    told = {"status": saved.status, "problem": saved.problem, "basis": saved.basis, "stale": list(saved.stale)}
    if saved.reading is None:
        return told
    reading = saved.reading
    field = {
        "value": as_typed(reading, unit), "basis": saved.basis, "state": STATES[saved.status], "gauge": reading.gauge,
        "problem": saved.problem, "undo": None if saved.rivals else reading.pk,
    }  # fmt: skip
    return told | {"fields": {place_id(reading): field}}

"""Hands that fill a worksheet on a tablet: by keys alone, or by touch alone. What they read is invented."""

HEIGHTS = ("1.85", "1.77", "1.69", "1.61", "1.53", "1.45")
PER_STRING = {
    "height_12": HEIGHTS, "octave": ("0.3", "0.2", "0.1", "0.4", "0", "0.3"), "nut_gap": ("0.15",) * 6,
    "fret_play": ("clean",) * 6,
}  # fmt: skip
ONCE = {
    "relief": "0.2", "crest_height_bass": "13", "crest_height_treble": "13", "screw_bass": "2", "screw_treble": "2",
}  # fmt: skip
IN_HAND = """() => {
  const here = document.activeElement;
  const place = here?.closest("[data-place]")?.dataset;
  return { reads: here?.matches("[data-reading]"), done: here?.matches("[data-after-fields]"),
    radio: here?.type === "radio", key: place?.key, string: place?.string };
}"""
# Where the bench's own keys are: a finger that knows them need not look at each again.
ON_PAD = """signs => signs.map((sign) => {
  const box = document.querySelector(`[data-key-of-pad="${sign}"]`).getBoundingClientRect();
  return [box.x + box.width / 2, box.y + box.height / 2];
})"""
MOST_TABS = 60


def value_for(key, string):
    if key in PER_STRING:
        return PER_STRING[key][6 - int(string)]
    return ONCE.get(key, "")


def by_keys(page, step):
    """Tab to the first field, type and press Enter until the step's own button has the focus, and press that."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if (at := page.evaluate(IN_HAND))["reads"]:
            break
    for _ in range(MOST_TABS):
        if at["done"] or not at["reads"]:
            break
        if at["radio"]:
            page.keyboard.press("Space")  # the first answer is the good one: yes, or clean
        else:
            page.keyboard.type(value_for(at["key"], at["string"]))
        page.keyboard.press("Enter")
        at = page.evaluate(IN_HAND)
    assert at["done"], step
    page.keyboard.press("Enter")
    page.wait_for_url(lambda url: f"/{step}/" not in url)


def by_touch(page, step):
    """Tap each field and the bench's own keys; tap answers; tap the step's button."""
    if page.locator("[data-pad-switch]").count() and page.locator("[data-pad]").is_hidden():
        page.locator("[data-pad-switch]").tap()
    for cell in page.locator("[data-place]").all():
        key, string = cell.get_attribute("data-key"), cell.get_attribute("data-string")
        if cell.locator("input[type=radio]").count():
            cell.locator("label.pick").first.tap()
        elif (value := value_for(key, string)) != "":
            cell.locator("input").tap()
            for place in page.evaluate(ON_PAD, [*value, "next"]):
                page.touchscreen.tap(*place)
    page.locator("[data-after-fields]").tap()
    page.wait_for_url(lambda url: f"/{step}/" not in url)


def sign(page, press):
    """Accept by name what no rule can settle, and sign. `press` is how one presses a button."""
    for _ in range(12):
        page.wait_for_load_state()
        if not page.locator("details.accept").count():
            break
        one = page.locator("details.accept").first
        press(one.locator("summary"))
        one.locator("[name=reason]").press_sequentially("played in and heard")
        with page.expect_navigation():
            press(one.get_by_role("button", name="Accept as"))
    press(page.get_by_role("button", name="Sign as"))
    page.wait_for_url(lambda url: "/sign/" not in url)


def key_press(button):
    button.focus()
    button.press("Enter")


def tap(button):
    button.tap()

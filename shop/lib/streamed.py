"""An archive that is sent while it is made: nothing waits for its end, and no more than a piece of it is held."""

import zipfile

from shop.lib.sending import Download

WRITTEN_AT = 1 << 16


class _Outlet:
    """A file that cannot be gone back in: what is written is taken away again."""

    def __init__(self):
        self.parts = []
        self.size = 0

    def write(self, data):
        self.parts.append(bytes(data))
        self.size += len(data)
        return len(data)

    def flush(self):
        """Nothing waits here."""

    def taken(self):
        found, self.parts, self.size = b"".join(self.parts), [], 0
        return found


def zip_of(fill, *, packed=zipfile.ZIP_DEFLATED):
    """A zip in pieces. `fill(archive)` writes into the ZipFile and yields now and then, so that it can be sent."""
    outlet = _Outlet()
    with zipfile.ZipFile(outlet, "w", packed) as archive:
        for _ in fill(archive):
            if outlet.size > WRITTEN_AT:
                yield outlet.taken()
    yield outlet.taken()


def zip_download(filename, pieces):
    """The answer that a browser keeps as this file, sent as the pieces come."""
    return Download(filename, pieces, "application/zip")

"""Static files under names that hold their contents' digest, each looked up once: a page names fifteen."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class StaticStorage(CompressedManifestStaticFilesStorage):
    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.found = {}  # the manifest is read at the start and holds until the next

    def url(self, name, force=False):
        if name not in self.found or force:
            self.found[name] = super().url(name, force)
        return self.found[name]

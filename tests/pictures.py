"""Pictures for uploads: good ones, and such as somebody might try."""

from io import BytesIO

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

ORIENTATION, CAMERA, PLACE = 0x0112, 0x010F, 0x8825
PLACE_TEXT = "N 51 28 40"


def image(width=640, height=480, colour=(120, 80, 40), mode="RGB"):
    return Image.new(mode, (width, height), colour)


def upload(content, name="photo.jpg", kind="image/jpeg"):
    return SimpleUploadedFile(name, content, kind)


def encoded(picture, form="JPEG", **options):
    out = BytesIO()
    picture.save(out, form, **options)
    return out.getvalue()


def photo(width=640, height=480, name="photo.jpg", **options):
    return upload(encoded(image(width, height), **options), name)


def with_exif(width=640, height=480, orientation=6):
    """A photograph turned on its side, that says with what and where it was taken."""
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    exif[CAMERA] = "Somebody's telephone"
    exif[PLACE] = {1: "N", 2: (51.0, 28.0, 40.0)}
    return photo(width, height, exif=exif.tobytes())


def opened(content):
    return Image.open(BytesIO(content))

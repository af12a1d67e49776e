"""Photographs as they may be kept: looked at by content, turned upright, made small, stripped of all else."""

import warnings
from dataclasses import dataclass
from io import BytesIO

from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

LARGEST_BYTES = 25 * 1024 * 1024
MOST_PIXELS = 60_000_000  # beyond any camera of a tablet; a small file that unfolds to more is a trap
LONGEST = 1600
THUMB = 360
QUALITY = 82
ACCEPTED = ("JPEG", "PNG", "WEBP")
NOT_A_PHOTO = "This is not a photograph that can be read. Choose a JPEG, PNG or WebP picture."


class ImageRefused(ValueError):
    """The message is a sentence for people."""


@dataclass(frozen=True)
class Picture:
    """`full` and `thumb` are JPEG bytes; width and height are those of `full`."""

    full: bytes
    thumb: bytes
    width: int
    height: int


def reencoded(file, *, longest=LONGEST, thumb=THUMB):
    """The uploaded `file` as a Picture: JPEG, upright, no side longer than `longest`, without any metadata.

    Raises ImageRefused for what is too large, is no photograph, or is cut off. Name and stated type are ignored.
    """
    if file.size > LARGEST_BYTES:
        raise ImageRefused(f"A photograph may have {LARGEST_BYTES // 2**20} MB at most.")
    image = _read(file, longest)
    small = image.copy()
    small.thumbnail((thumb, thumb))
    return Picture(_jpeg(image), _jpeg(small), *image.size)


def drawing(file, *, longest=800):
    """A drawing with transparency, such as a signature, as PNG bytes. Raises ImageRefused as `reencoded`."""
    if file.size > 2**20:
        raise ImageRefused("The drawing is too large.")
    image = _read(file, longest, formats=("PNG",))
    out = BytesIO()
    image.convert("L").save(out, "PNG", optimize=True)
    return out.getvalue()


def _read(file, longest, formats=ACCEPTED):
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            image = Image.open(file, formats=formats)
            if image.width * image.height > MOST_PIXELS:
                raise ImageRefused("This picture has too many pixels to be a photograph from a camera.")
            # Whoever loads the library for papers makes the whole process take pictures that are cut off.
            ImageFile.LOAD_TRUNCATED_IMAGES = False
            image.draft("RGB", (longest, longest))  # a JPEG is read at a fraction of its size where that is enough
            image.load()
            image = ImageOps.exif_transpose(image)
    except (Image.DecompressionBombWarning, Image.DecompressionBombError) as error:
        raise ImageRefused("This picture has too many pixels to be a photograph from a camera.") from error
    except ImageRefused:
        raise
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, EOFError) as error:
        raise ImageRefused(NOT_A_PHOTO) from error
    image.thumbnail((longest, longest))
    return _on_white(image)


def _on_white(image):
    if image.mode == "RGB":
        return image
    ground = Image.new("RGB", image.size, "white")
    seen = image.convert("RGBA")
    ground.paste(seen, mask=seen.getchannel("A"))
    return ground


def _jpeg(image):
    out = BytesIO()
    bare = Image.new("RGB", image.size)
    bare.paste(image)  # pixels only: no EXIF, no place, no comment
    bare.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return out.getvalue()

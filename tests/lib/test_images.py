"""Photographs are made small, upright and bare; what is none is refused with a sentence."""

import zlib

import pytest
from PIL import Image

from shop.lib import images, pdf
from tests import pictures


def test_a_photograph_becomes_a_bounded_jpeg():
    made = images.reencoded(pictures.photo(4000, 3000))
    full, thumb = pictures.opened(made.full), pictures.opened(made.thumb)
    assert (full.format, full.size) == ("JPEG", (1600, 1200))
    assert (thumb.format, max(thumb.size)) == ("JPEG", 360)
    assert (made.width, made.height) == full.size


def test_a_small_one_is_not_blown_up():
    assert images.reencoded(pictures.photo(300, 200)).width == 300


def test_it_is_turned_upright_and_forgets_where_it_was_taken():
    made = images.reencoded(pictures.with_exif(640, 480, orientation=6))
    full = pictures.opened(made.full)
    assert full.size == (480, 640)
    assert dict(full.getexif()) == {}
    assert b"telephone" not in made.full


@pytest.mark.parametrize(
    ("form", "mode"), [("PNG", "RGBA"), ("PNG", "P"), ("WEBP", "RGB"), ("PNG", "I;16"), ("PNG", "LA")]
)
def test_other_formats_and_colours_become_the_same(form, mode):
    content = pictures.encoded(Image.new(mode, (50, 40)), form)
    assert pictures.opened(images.reencoded(pictures.upload(content)).full).mode == "RGB"


def test_what_is_transparent_becomes_white():
    content = pictures.encoded(Image.new("RGBA", (20, 20), (0, 0, 0, 0)), "PNG")
    assert pictures.opened(images.reencoded(pictures.upload(content)).full).getpixel((10, 10)) == (255, 255, 255)


SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
WHOLE = pictures.encoded(pictures.image(800, 600))


NO_PHOTOGRAPHS = {
    "empty": b"",
    "text": b"just text",
    "svg": SVG,
    "broken gif": b"GIF89a" + bytes(50),
    "cut off": WHOLE[: len(WHOLE) // 2],
    "jpeg in name only": b"\xff\xd8\xff" + bytes(200),
    "gif": pictures.encoded(pictures.image(20, 20), "GIF"),
    "tiff": pictures.encoded(pictures.image(20, 20), "TIFF"),
    "pdf": b"%PDF-1.7\n%%EOF",
}


@pytest.mark.parametrize("content", NO_PHOTOGRAPHS.values(), ids=NO_PHOTOGRAPHS)
def test_what_is_no_photograph_is_refused_whatever_its_name(content):
    with pytest.raises(images.ImageRefused, match=r"not a photograph that can be read.*\.$"):
        images.reencoded(pictures.upload(content, name="holiday.jpg"))


def test_a_picture_with_a_script_behind_it_loses_the_script():
    made = images.reencoded(pictures.upload(WHOLE + b"<?php system('ls'); ?><script>"))
    assert b"script" not in made.full
    assert b"php" not in made.full


def png_of(width, height):
    """A PNG that says it is that large; its few bytes would unfold to nothing but zeros."""

    def chunk(name, data):
        return len(data).to_bytes(4, "big") + name + data + zlib.crc32(name + data).to_bytes(4, "big")

    head = width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes([8, 2, 0, 0, 0])
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes(1000))) + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize("side", [9_000, 12_000, 60_000])
def test_a_small_file_that_unfolds_to_a_flood_is_refused(side):
    with pytest.raises(images.ImageRefused, match="too many pixels"):
        images.reencoded(pictures.upload(png_of(side, side), "trap.png"))


def test_a_huge_file_is_refused_before_it_is_read():
    file = pictures.upload(b"x")
    file.size = images.LARGEST_BYTES + 1
    with pytest.raises(images.ImageRefused, match="25 MB at most"):
        images.reencoded(file)


def test_a_signature_becomes_a_grey_png():
    made = images.drawing(pictures.upload(pictures.encoded(pictures.image(800, 240, mode="RGB"), "PNG")))
    assert (pictures.opened(made).format, pictures.opened(made).mode) == ("PNG", "L")


def test_a_signature_that_is_a_jpeg_is_refused():
    with pytest.raises(images.ImageRefused):
        images.drawing(pictures.photo())


def test_making_papers_does_not_let_cut_off_pictures_in():
    pdf.pdf_of("<html lang=en><title>.</title><p>A paper</p></html>")
    with pytest.raises(images.ImageRefused):
        images.reencoded(pictures.upload(NO_PHOTOGRAPHS["cut off"], name="holiday.jpg"))

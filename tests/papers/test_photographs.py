"""Twenty photographs of twelve megapixels, and the handover sheet that shows some of them."""

import io

import pikepdf
import pytest
from PIL import Image

from shop.handover import papers
from shop.orders import services as orders
from tests import pictures
from tests.papers import builders

PIXELS = (4000, 3000)
LARGEST_SHEET = 400_000  # bytes
WIDEST = 41.5 / 25.4 * 150  # dots: the column of a photograph, at the density of print


@pytest.fixture
def photographed(cleo, ben):
    """An order whose photographs were all taken with the tablet turned: what is up lies to the right in the file."""
    builders.shop()
    order = builders.order(cleo, 1)
    noise = Image.effect_noise(PIXELS, 90).convert("RGB")
    noise.paste("white", (0, 0, 1000, 3000))  # the left edge as stored is the upper one as seen
    exif = Image.Exif()
    exif[pictures.ORIENTATION] = 6
    content = pictures.encoded(noise, quality=90, exif=exif.tobytes())
    assert len(content) > 3_000_000
    for number in range(20):
        step, caption = ("", "") if number < 10 else ("left", "After: done")
        orders.add_photo(order, pictures.upload(content), by=ben, caption=caption, step=step)
    return order


def test_the_sheet_stays_small_and_upright(photographed):
    content = papers.handover_pdf(photographed, builders.shop())
    assert len(content) < LARGEST_SHEET
    with pikepdf.open(io.BytesIO(content)) as pdf:
        shown = [pikepdf.PdfImage(one).as_pil_image() for page in pdf.pages for one in page.get_images().values()]
    assert len(shown) == papers.MOST_PHOTOS
    for one in shown:
        assert one.width <= WIDEST + 1
        assert one.height > one.width  # stood up
        top, bottom = (one.convert("L").resize((1, 4)).getpixel((0, row)) for row in (0, 3))
        assert top > 240 > 200 > bottom

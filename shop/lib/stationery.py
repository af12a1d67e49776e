"""The workshop's stationery: every paper wears the same style sheets, on the paper size that the workshop uses."""

from shop.lib.pdf import render_pdf, warm_up

SIZES = {"A4": "css/paper-a4.css", "Letter": "css/paper-letter.css"}


def sheets_for(size):
    return ("css/paper-fonts.css", "css/paper.css", SIZES[size])


def paper_pdf(name, context, *, size, **options):
    """templates/papers/<name>.html as a PDF on `size` ('A4' or 'Letter'); options as `render_pdf` takes them."""
    return render_pdf(f"papers/{name}.html", context, css=sheets_for(size), **options)


def warm_up_for(size):
    """Load fonts and style sheets of that size, so that the first paper of the day is as quick as the others."""
    warm_up(sheets_for(size))

"""What axe finds amiss on a page, by the rules of WCAG 2.2 AA and its own best practice."""

from axe_playwright_python.sync_playwright import Axe

RULES = {
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    "resultTypes": ["violations"],  # what is in order need not be listed: half the time
}


def violations(page):
    """[(rule, the first element that breaks it)]."""
    found = Axe().run(page, options=RULES).response["violations"]
    return [(one["id"], one["nodes"][0]["html"][:140]) for one in found]

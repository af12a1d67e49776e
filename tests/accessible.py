"""What axe finds amiss on a page, by the rules of WCAG 2.2 AA and its own best practice."""

from axe_playwright_python.base import AXE_SCRIPT

RULES = {
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    "resultTypes": ["violations"],  # what is in order need not be listed: half the time
}


COLOURS = {"runOnly": {"type": "rule", "values": ["color-contrast"]}, "resultTypes": ["violations"]}


# Only what is amiss leaves the browser: all that axe has to say of a page is long.
LOOK = "rules => axe.run(rules).then(found => found.violations.map(one => [one.id, one.nodes[0].html.slice(0, 140)]))"


def violations(page, rules=RULES):
    """[(rule, the first element that breaks it)]."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    return [tuple(one) for one in page.evaluate(LOOK, rules)]

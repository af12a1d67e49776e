"""What a browser may do with a static file that is opened by itself, such as a drawing: show it."""

POLICY = "default-src 'none'; frame-ancestors 'none'; base-uri 'none'"


def static_policy(headers, path, url):
    """Called by WhiteNoise for each file that it serves; pages have a policy of their own."""
    headers["Content-Security-Policy"] = POLICY

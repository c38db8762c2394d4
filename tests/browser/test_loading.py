"""The page loads: first visit, later visits, no network, and what is said when it cannot."""

import pytest

pytestmark = pytest.mark.browser

READY = "document.documentElement.dataset.offline === 'ready'"


def test_first_visit_needs_no_special_headers_and_no_other_origin(chromium, site):
    context = chromium.new_context()
    asked = []
    context.on("request", lambda request: asked.append(request.url))
    page = context.new_page()
    page.goto(site.url)
    page.wait_for_function(READY)
    assert page.evaluate("performance.getEntriesByName('first-pattern').length") == 1
    others = [url for url in asked if not url.startswith((site.url, f"blob:{site.origin}/"))]
    assert others == []
    context.close()

"""Nothing lost where localStorage is filled to its last letters, in the browser.

    python -m tests.fuzz_storage --fills 16 --seed 1

Each time a draft is kept first, then all but a few letters of the room are taken, and one measurement is
typed anew. Once the database holds it the page is loaded again. It is wrong when the page then shows another
number, or when it neither kept the number nor said that it cannot.
"""

import argparse
import random
import sys
from collections.abc import Iterator

import build
from tests.bench_loading import SETTLED, chromium
from tests.conftest import PlainSite

MOST_LEFT = 3000  # letters; a note of such a draft takes about a thousand
FIRST = {"bust_girth": "92", "waist_girth": "78", "torso_length": "38"}
FILL = """left => {
    localStorage.removeItem("filler");
    let text = "";
    for (let size = 1 << 23; size >= 1; size >>= 1) {
        try {
            localStorage.setItem("filler", text + "x".repeat(size));
            text += "x".repeat(size);
        } catch {} // no room for so much
    }
    localStorage.setItem("filler", text.slice(left));
}"""
"""source: HTML, web storage: setItem throws where a value does not fit."""
NOTED = "JSON.parse(localStorage.getItem('ellwand ' + ellwand.home))"
SAID = "document.getElementById('notices').innerText.includes(\"in this page's address\")"
KEPT = "ellwand.kits.get(sessionStorage.getItem('ellwand ' + ellwand.home)).then(kept => kept?.text ?? '')"
KEPT_OR_SAID = f"""number => Promise.resolve({SAID}).then(said => said ? 'said' :
    {KEPT}.then(text => text.includes(`"${{number}}"`) ? 'kept' : ''))"""


def fills(browser, url: str, seed: int, count: int) -> Iterator[str]:
    """A sentence for each fill after which something was lost."""
    rng = random.Random(seed)
    for number in range(count):
        left, typed = rng.randrange(MOST_LEFT) if number else 500, str(rng.randrange(93, 130))
        said = once(browser, url, left, typed)
        if said:
            yield f"fill {number} of seed {seed}, {left} letters left: {said}"


def once(browser, url: str, left: int, typed: str) -> str:
    context = browser.new_context()
    page = context.new_page()
    page.goto(url)
    for name, text in FIRST.items():
        page.fill(f"#{name}", text)
    page.wait_for_function(f"{SETTLED} && !{NOTED}.dirty")
    page.evaluate(FILL, left)
    page.fill("#bust_girth", typed)
    page.wait_for_function(SETTLED)
    became = ""
    for _ in range(100):
        became = page.evaluate(KEPT_OR_SAID, typed)
        if became:
            break
        page.wait_for_timeout(50)
    page.reload()
    page.wait_for_selector("html[data-usable]")
    found = [page.input_value(f"#{name}") for name in FIRST]
    context.close()
    if not became:
        return f"{typed} was not kept, and nothing was said"
    wanted = [typed, *list(FIRST.values())[1:]]
    return "" if found == wanted else f"{found} stands where {wanted} was {became}"


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--fills", type=int, default=16)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    build.site()
    site = PlainSite(build.DIST)
    with chromium() as browser:
        wrong = []
        for sentence in fills(browser, site.url, given.seed, given.fills):
            wrong.append(sentence)
            print(sentence, flush=True)
    site.stop()
    print(f"{given.fills:,} fills, {len(wrong)} with a loss")
    return int(bool(wrong))


if __name__ == "__main__":
    sys.exit(main())

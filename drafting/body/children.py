"""What a child of a given stature typically measures; the table names its sources in itself."""

from drafting.body.data import load


def typical_child(stature: float) -> dict[str, float]:
    """Typical measures of a child of this stature, mm; in proportion beyond the table's ends."""
    table = load("children")
    statures: list[float] = table["stature"]
    inside = min(max(stature, statures[0]), statures[-1])
    i = min(max(sum(s <= inside for s in statures) - 1, 0), len(statures) - 2)
    part = (inside - statures[i]) / (statures[i + 1] - statures[i])
    typical = {
        name: (row[i] + part * (row[i + 1] - row[i])) * stature / inside
        for name, row in table["typical"].items()
    }
    return {"stature": stature, **typical}

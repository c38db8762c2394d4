"""The entries of a kit's lists ("wearers", "cloths", "garments"), each known by its id."""


def entry(entries, entry_id):
    """The entry of that id, or None."""
    for one in entries:
        if one["id"] == entry_id:
            return one
    return None


def new_id(kit, which):
    """An id for one more in that list."""
    taken, number = [one["id"] for one in kit[which]], 1
    while which[0] + str(number) in taken:
        number += 1
    return which[0] + str(number)

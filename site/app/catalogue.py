"""What garments, measures and sizes there are, out of catalog.json, which the build has written."""

import form


class Catalogue:
    """`garments` and `measures` are their names in order; `lengths`, for each garment, the names of those
    of its options that are lengths."""

    def __init__(self, described):
        self.described = described
        self.garments = [garment["name"] for garment in described["garments"]]
        self.measures = [measure["name"] for measure in described["measures"]]
        self.lengths = {
            g["name"]: [o["name"] for o in g["options"] if o["kind"] == "length"]
            for g in described["garments"]
        }
        self._wanted = {}

    def garment(self, name):
        """All that is said of a garment, or None."""
        return form.garment_named(self.described, name)

    def wanted(self, garment):
        """(asked, needed): the measurements of a garment, by name."""
        if garment not in self._wanted:
            needed, helpful = form.measures_of(self.described, self.garment(garment))
            needed = [measure["name"] for measure in needed]
            self._wanted[garment] = needed + [measure["name"] for measure in helpful], needed
        return self._wanted[garment]

    def title(self, garment):
        """A garment's title, or its name where the page does not know it."""
        known = self.garment(garment)
        return known["title"] if known else garment

    def label(self, name, garment):
        """What the form calls an option of a garment, or a measure; "" for neither."""
        for known in self.garment(garment)["options"] + self.described["measures"]:
            if known["name"] == name:
                return known["label"]
        return ""

    def size(self, name):
        """A size's start values, {unit: {measure: text}}, or None."""
        for size in self.described["sizes"]:
            if size["name"] == name:
                return size["values"]
        return None

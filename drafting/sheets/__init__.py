"""What leaves the house: drawings of a pattern's pieces. Reads `Pattern` and nothing else.

`preview` and `svg` draw; `tiled_pdf` prints. Libraries that write files are imported only by the
function that needs them, so that a first preview waits for none of them.
"""

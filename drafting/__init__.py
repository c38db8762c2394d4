"""Early-medieval clothing for living history, drafted from a few tape measurements.

The package runs one way along this line, each part importing only what stands to its left:

    units, problems → body → geometry → pattern → garments → growing, truing → cloth, lay
    → sewing → period → sheets → kit → workbench → __main__
"""

__version__ = "0.1.0"

"""Early-medieval clothing for living history, drafted from a few tape measurements.

The package runs one way along this line, each part importing only what stands to its left:

    units, problems, wording, cautions → body → geometry → pattern → garments → growing, truing
    → cloth, piecing, lay, chalk → sewing → period → sheets → requests → laying
    → cutting, saving, kit → files, kit_files, handing → workbench → command_*, __main__
"""

__version__ = "0.1.0"

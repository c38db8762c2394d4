"""Plain values in, plain values out: the one door for the page and the command line."""

"""What the page's MicroPython runs too: it imports nothing, and is copied beside the page's own modules."""

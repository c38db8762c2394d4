"""The life of a garment: tried on and altered, let out, measured flat, handed on, cut again, mended,
trimmed."""

"""The same value and places as in the rest of placement, in compiled form for millions of tries."""

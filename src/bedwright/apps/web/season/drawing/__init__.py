"""The season drawn: beds week by week, ground taken, picking, hours and water, and moves by hand."""

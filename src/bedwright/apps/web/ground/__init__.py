"""The drawing of the site."""

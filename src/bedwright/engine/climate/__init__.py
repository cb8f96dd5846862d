"""What the weather record says of the site."""

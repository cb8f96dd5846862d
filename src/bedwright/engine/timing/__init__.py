"""When each crop can go in, with its chance."""

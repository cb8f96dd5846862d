"""The packaged example: an invented garden, and the invented weather it is planned on."""

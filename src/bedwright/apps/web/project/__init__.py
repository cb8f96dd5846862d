"""Settings, addresses and the doors to the server."""

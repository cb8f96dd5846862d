"""Pages for a phone in the garden, also without a network."""

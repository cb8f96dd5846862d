"""The log: what was done in the garden, by whom and when."""

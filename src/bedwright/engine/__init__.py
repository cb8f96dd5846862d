"""Works a season plan out of a garden book; pure: no files, network, clock or web."""

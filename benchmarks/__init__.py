"""Speed and memory, beside a named peer in the same run."""

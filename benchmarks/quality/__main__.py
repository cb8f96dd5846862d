"""All seeds of the parts named, or of all parts: `python -m benchmarks.quality [NAME ...]`."""

import sys

from benchmarks.__main__ import machine
from benchmarks.quality import PARTS


def main() -> None:
    """Run the parts named on the command line."""
    print(machine(), flush=True)
    for name in sys.argv[1:] or PARTS:
        PARTS[name]()


if __name__ == "__main__":
    main()

"""Runs every benchmark, or those named: `python -m benchmarks [NAME ...]`.

Each compares with a named peer in one run and prints the ratio; none is part of the tests.
"""

import importlib
import pkgutil
import platform
import sys
from pathlib import Path


def main() -> None:
    """Run the benchmarks named on the command line, or all of them."""
    folder = Path(__file__).parent
    known = sorted(each.name for each in pkgutil.iter_modules([str(folder)]) if not each.name.startswith("_"))
    wanted = sys.argv[1:] or known
    unknown = [name for name in wanted if name not in known]
    if unknown:
        raise SystemExit(f"no benchmark is called {', '.join(unknown)}; there are: {', '.join(known)}")
    print(f"Python {platform.python_version()}, {platform.machine()}, {platform.system()}")
    for name in wanted:
        print(f"\n## {name}")
        importlib.import_module(f"benchmarks.{name}").main()


if __name__ == "__main__":
    main()

"""Runs every benchmark, or those named: `python -m benchmarks [NAME ...]`.

Each compares with a named peer in one run and prints the ratio; none is part of the tests.
"""

import importlib
import os
import pkgutil
import platform
import sys
from importlib.metadata import version
from pathlib import Path

PACKAGES = ("numpy", "scipy", "numba", "ortools", "shapely")


def machine() -> str:
    """Machine, versions, and how busy it is with other things."""
    packages = ", ".join(f"{name} {version(name)}" for name in PACKAGES)
    return (
        f"Python {platform.python_version()}, {platform.machine()}, {platform.system()}, "
        f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}; {packages}"
    )


def main() -> None:
    """Run the benchmarks named on the command line, or all of them."""
    folder = Path(__file__).parent
    known = sorted(each.name for each in pkgutil.iter_modules([str(folder)]) if not each.name.startswith("_"))
    wanted = sys.argv[1:] or known
    unknown = [name for name in wanted if name not in known]
    if unknown:
        raise SystemExit(f"no benchmark is called {', '.join(unknown)}; there are: {', '.join(known)}")
    print(machine())
    for name in wanted:
        print(f"\n## {name}")
        importlib.import_module(f"benchmarks.{name}").main()


if __name__ == "__main__":
    main()

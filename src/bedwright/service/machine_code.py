"""Machine code kept from an earlier version of the search is thrown away.

numba keeps the machine code of a function as long as the function's own file is unchanged, and
does not see a change in a function that it calls from another file.
"""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from pathlib import Path

import bedwright.engine

# By its folder: to import the search would bring in all that compiles it.
COMPILED = Path(bedwright.engine.__file__).parent / "placement"
STAMP = "search.sha256"
MACHINE_CODE = ("*.nbi", "*.nbc")


@cache
def forget_outdated_machine_code(folder: Path = COMPILED) -> bool:
    """Delete machine code made from other sources than those in a folder; True if there was any.

    Looked at once in a process. Where the folder cannot be written to, numba keeps its machine
    code elsewhere, under the time each file was installed, and nothing is done.
    """
    digest = sha256()
    for source in sorted(folder.rglob("*.py")):
        digest.update(source.relative_to(folder).as_posix().encode())
        digest.update(source.read_bytes())
    stamp = folder / "__pycache__" / STAMP
    try:
        if stamp.is_file() and stamp.read_text(encoding="ascii") == digest.hexdigest():
            return False
        kept = [file for kind in MACHINE_CODE for file in folder.rglob(kind)]
        for file in kept:
            file.unlink(missing_ok=True)
        stamp.parent.mkdir(exist_ok=True)
        stamp.write_text(digest.hexdigest(), encoding="ascii")
    except OSError:
        return False
    return bool(kept)

"""How the search is compiled: kept on disk, and without a count of who holds its tables.

The tables outlive every call, yet half of the time of a move went into counting them up and
down. A function compiled so can neither make arrays nor take slices of them: its scratch is
handed to it.
"""

from __future__ import annotations

import numba

compiled = numba.njit(cache=True, _nrt=False)  # type: ignore[call-overload] # the stubs leave it out

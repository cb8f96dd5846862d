"""The `bedwright` command: parses, hands over to a use case, shows the outcome.

Exit codes: 0 done; 1 a code or name that is not known; 2 input that cannot be used, with
every problem listed; 3 a fault of Bedwright itself; 130 stopped with Ctrl-C, nothing
half-written.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from bedwright import __version__
from bedwright.apps.cli import commands
from bedwright.engine.pipeline import PlanRuleBrokenError
from bedwright.model.problem import BadDocumentError

DONE, UNKNOWN, BAD_INPUT, OWN_FAULT, STOPPED = 0, 1, 2, 3, 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    options = _parser().parse_args(arguments)
    try:
        code: int = options.run(options)
    except BadDocumentError as error:
        _print_problems(error)
        return BAD_INPUT
    except PlanRuleBrokenError as error:
        print(
            f"The plan broke a rule of its own; nothing was written. Please report this:\n{error}",
            file=sys.stderr,
        )
        return OWN_FAULT
    except KeyboardInterrupt:
        print("\nStopped; nothing was left half-written.", file=sys.stderr)
        return STOPPED
    except BrokenPipeError:
        # The reader of our output has gone (such as `head`); there is nobody left to tell.
        sys.stderr.close()
        return DONE
    return code


def _print_problems(error: BadDocumentError) -> None:
    for problem in error.problems:
        print(problem, file=sys.stderr)
    n = len(error.problems)
    print(f"{n} problem{'' if n == 1 else 's'}; nothing was written.", file=sys.stderr)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="bedwright",
        description="Works a season plan out of a garden book, with papers people can plant from.",
        epilog="Exit codes: 0 done, 1 code or name not known, 2 bad input, 3 own fault, 130 stopped.",
    )
    parser.add_argument("--version", action="version", version=f"bedwright {__version__}")
    commands.add_all(parser.add_subparsers(title="commands", required=True, metavar="COMMAND"))
    return parser

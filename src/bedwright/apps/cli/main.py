"""The `bedwright` command: parses, hands over to a use case, shows the outcome.

Exit codes: 0 done; 1 a code or name that is not known; 2 input that cannot be used, with
every problem listed; 3 a fault of Bedwright itself; 130 stopped with Ctrl-C, nothing
half-written. Ctrl-C while `plan` seeks places takes the best plan so far, and is 0.
"""

from __future__ import annotations

import argparse
import importlib
import sys
from collections.abc import Sequence

from bedwright import __version__
from bedwright.model.problem import BadDocumentError
from bedwright.model.progress import PlanRuleBrokenError

DONE, UNKNOWN, BAD_INPUT, OWN_FAULT, STOPPED = 0, 1, 2, 3, 130

COMMANDS = {
    "plan": "plan a season and write its papers",
    "demo": "plan the packaged example garden",
    "check": "list the problems of a garden book, write nothing",
    "climate": "frost dates, months and soil of the site",
    "why": "reasons of one placement and its dates, and what else there was",
    "replan": "make the season again after something happened",
    "carry": "what a season that is over leaves for next year's garden book",
    "week": "everything due in a week, in the order of a walk",
    "water": "what each bed wants this morning",
    "workday": "who does what on a workday",
    "crop": "all facts of a crop with their sources",
    "stations": "how many of a crop a bed of its own holds, and where each stands",
    "schema": "print the garden book's JSON Schema",
    "serve": "open the web application",
    "backup": "keep all gardens of the web application in one file",
    "restore": "put a kept file in place of all gardens",
}
"""Each command is a module of this package with `add_arguments(parser)` and `run(options)`."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    options = _parser(words).parse_args(words)
    try:
        code: int = options.run(options)
    except BadDocumentError as error:
        _print_problems(error)
        return BAD_INPUT
    except PlanRuleBrokenError as error:
        told = "The plan broke a rule of its own; nothing was written. Please report this:"
        print(f"{told}\n{error}", file=sys.stderr)
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


def _parser(words: Sequence[str]) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="bedwright",
        description="Works a season plan out of a garden book, with papers people can plant from.",
        epilog="Exit codes: 0 done, 1 code or name not known, 2 bad input, 3 own fault, 130 stopped.",
    )
    parser.add_argument("--version", action="version", version=f"bedwright {__version__}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")
    for name, summary in COMMANDS.items():
        command = commands.add_parser(name, help=summary, description=summary)
        # Only the command that runs is imported: `check` need not wait for the planner to load.
        if name in words:
            module = importlib.import_module(f"bedwright.apps.cli.{name}")
            module.add_arguments(command)
            command.set_defaults(run=module.run)
    return parser

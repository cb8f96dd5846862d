"""Answers to scripts: problems and conflicts as JSON, in the words of the pages."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from django.http import JsonResponse
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.saving import ChangedMeanwhileError
from bedwright.apps.web.sentences import in_language, value_in_language
from bedwright.model.problem import BadDocumentError, Problem


def problems_json(error: BadDocumentError) -> JsonResponse:
    """422 with every problem: file, line, column, where, got, expected, hint."""
    return JsonResponse({"problems": [_told(problem) for problem in error.problems]}, status=422)


def conflict_json(error: ChangedMeanwhileError) -> JsonResponse:
    """409 with the newer revision and the entries both changed."""
    return JsonResponse(
        {
            "text": _("Somebody changed the same entries meanwhile. Nothing was kept."),
            "head": error.head.number,
            "author": str(error.head.author or ""),
            "parts": list(error.parts),
            "problems": [_told(problem) for problem in error.problems],
        },
        status=409,
    )


def _told(problem: Problem) -> dict[str, Any]:
    """A problem in the language of the page; `where` stays the path of the field."""
    return asdict(problem) | {
        "got": value_in_language(problem.got),
        "expected": in_language(problem.expected),
        "hint": in_language(problem.hint),
    }

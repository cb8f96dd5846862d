"""Lines kept once, however often, in whatever order and from however many phones they come."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import DatabaseError, transaction
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.clocks import settle
from bedwright.apps.web.log.models import LogEntry
from bedwright.apps.web.log.wire import BadLineError, SentLine, sent_line
from bedwright.apps.web.people.models import User

logger = logging.getLogger("bedwright.log")

State = Literal["kept", "had", "refused", "other person", "failed"]
"""kept: now. had: already. refused: can never be kept as it is. other person: has to wait
until the one who wrote it signs in. failed: a fault here; send it again."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of one line."""

    id: str
    state: State
    problems: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sender:
    """Who sends, from where, and by which clocks."""

    author: User
    may_correct_others: bool
    zone: ZoneInfo
    sent_at: datetime
    """By the sender's clock."""
    received_at: datetime
    """By the server's."""


def accept(garden: Garden, sender: Sender, items: Sequence[object]) -> tuple[Answer, ...]:
    """Keep what can be kept of some lines, and say of each what became of it.

    Parameters
    ----------
    garden
        The garden they are about.
    sender
        Who sends them, and when by which clock.
    items
        Lines as they came; each is judged by itself.

    Returns
    -------
    tuple of Answer
        One an item, in order. Sending the same items again changes nothing.
    """
    answers: dict[int, Answer] = {}
    lines: dict[int, SentLine] = {}
    for position, item in enumerate(items):
        stated = str(item.get("id", "")) if isinstance(item, dict) else ""
        try:
            line = sent_line(item)
        except BadLineError as error:
            answers[position] = Answer(stated, "refused", error.problems)
            continue
        if line.author_id is not None and line.author_id != sender.author.pk:
            problem = _("Written by another person, who has to sign in to send it.")
            answers[position] = Answer(stated, "other person", (problem,))
            continue
        lines[position] = line
    refused = _not_theirs(garden, sender, lines.values())
    for position in [key for key, line in lines.items() if line.id in refused]:
        problem = _("Only the one who wrote a line, or a team leader, can correct it.")
        answers[position] = Answer(str(lines.pop(position).id), "refused", (problem,))
    kept = _keep(garden, sender, list(lines.values()))
    for position, line in lines.items():
        answers[position] = kept[line.id, line.digest]
    return tuple(answers[position] for position in range(len(items)))


def _not_theirs(garden: Garden, sender: Sender, lines: Iterable[SentLine]) -> set[UUID]:
    """Ids of corrections of lines that somebody else wrote."""
    corrected = {line.corrects: line.id for line in lines if line.corrects is not None}
    if sender.may_correct_others or not corrected:
        return set()
    others = garden.log_entries.filter(client_id__in=corrected).exclude(author=sender.author)
    return {corrected[client_id] for client_id in others.values_list("client_id", flat=True)}


def _keep(garden: Garden, sender: Sender, lines: Sequence[SentLine]) -> dict[tuple[UUID, str], Answer]:
    try:
        return _keep_together(garden, sender, lines)
    except DatabaseError:
        logger.exception("Lines could not be kept together; each is tried by itself.")
    answers: dict[tuple[UUID, str], Answer] = {}
    for line in lines:
        try:
            answers |= _keep_together(garden, sender, [line])
        except DatabaseError:
            logger.exception("A line could not be kept.")
            answers[line.id, line.digest] = Answer(str(line.id), "failed", (_("A fault of the server."),))
    return answers


def _keep_together(
    garden: Garden, sender: Sender, lines: Sequence[SentLine]
) -> dict[tuple[UUID, str], Answer]:
    ids = [line.id for line in lines]
    with transaction.atomic():
        before = _digests(garden, ids)
        new = {line.id: line for line in lines if line.id not in before}
        LogEntry.objects.bulk_create(
            [_entry(garden, sender, line) for line in new.values()], ignore_conflicts=True
        )
        after = _digests(garden, ids)
    answers: dict[tuple[UUID, str], Answer] = {}
    for line in lines:
        if after.get(line.id) != line.digest:
            problem = _("Another line was kept under the same id.")
            answers[line.id, line.digest] = Answer(str(line.id), "refused", (problem,))
        else:
            state: State = "had" if line.id in before else "kept"
            answers[line.id, line.digest] = Answer(str(line.id), state)
    return answers


def _digests(garden: Garden, ids: Sequence[UUID]) -> dict[UUID, str]:
    return dict(garden.log_entries.filter(client_id__in=ids).values_list("client_id", "sent_digest"))


def _entry(garden: Garden, sender: Sender, line: SentLine) -> LogEntry:
    settled = settle(
        line.day,
        written_at=line.written_at,
        sent_at=sender.sent_at,
        received_at=sender.received_at,
        seen_at=line.seen_at,
        zone=sender.zone,
    )
    fields: dict[str, Any] = {
        name: getattr(line, name)
        for name in (
            "kind", "written_at", "device", "device_count", "bed_code", "row_code", "planting_code", "crop",
            "task_code", "quantity", "unit", "person_min", "n_people", "ends", "partly", "corrects", "struck",
            "note", "plan_digest",
        )
    }  # fmt: skip
    return LogEntry(
        garden=garden,
        client_id=line.id,
        author=sender.author,
        day=settled.day,
        stated_day=line.day if settled.day != line.day else None,
        clock=settled.clock,
        clock_ahead_s=settled.ahead_s,
        received_at=sender.received_at,
        sent_digest=line.digest,
        **fields,
    )

"""The people file described once, in the kinds of the garden book."""

from __future__ import annotations

from typing import Final

from bedwright.model import bounds
from bedwright.model.bounds import Bounds
from bedwright.store.book.kinds import Field, Flag, ListOf, Number, Record, Text
from bedwright.store.book.texts import DAY, NAME

PEOPLE_VERSION: Final = 1
N_PEOPLE = Bounds(0, 500, "people")
N_TEAMS = Bounds(0, 100, "teams")
N_TOOLS = Bounds(0, 200, "tools")
TOOL_COUNT = Bounds(0, 1000, "pieces")

TIME = Text(
    Bounds(4, 5, "characters"),
    pattern=r"(?:[01]?[0-9]|2[0-3]):[0-5][0-9]",
    form="a time of day such as 9:30 or 14:00",
)
WORKDAY = Record(
    "workday",
    (
        Field("date", DAY, "Day of the workday.", required=True),
        Field("start", TIME, "When people are welcomed.", required=True),
        Field("end", TIME, "When the last go home.", required=True),
        Field("leader", NAME, "Who shows jobs and answers for the day.", left_out="the coordinator"),
    ),
)
PROMISED = Record(
    "promised hours",
    (
        Field("hours_per_week", Number(bounds.HOURS_PER_WEEK), "Hours promised.", required=True),
        Field("start", DAY, "First day.", required=True),
        Field("end", DAY, "Last day.", required=True),
        Field("paid", Flag(), "Whether the hours are paid.", left_out="false"),
    ),
    one_line=True,
)
PERSON = Record(
    "person",
    (
        Field("name", NAME, "Name as on the sign-in sheet; each name once.", required=True),
        Field("from", TIME, "When the person comes.", left_out="the start of the workday"),
        Field("until", TIME, "When the person leaves.", left_out="the end of the workday"),
        Field("sitting_only", Flag(), "Works sitting.", left_out="false"),
        Field("no_lifting", Flag(), "Does not lift.", left_out="false"),
        Field("shade_only", Flag(), "Stays in the shade.", left_out="false"),
        Field("first_time", Flag(), "Comes for the first time: is shown each job.", left_out="false"),
        Field("child", Flag(), "A child: stays beside the adult named in `with`.", left_out="false"),
        Field("with", NAME, "Name of the adult a child comes with.", left_out="nobody"),
        Field("promised", PROMISED, "Hours promised beyond this day.", left_out="none"),
    ),
    one_line=True,
)
TEAM = Record(
    "team",
    (
        Field("name", NAME, "Name of the team.", required=True),
        Field(
            "members",
            ListOf(NAME, Bounds(2, 30, "people"), unique=True),
            "Adults who stay together all day.",
            required=True,
        ),
    ),
    one_line=True,
)
TOOL = Record(
    "tool",
    (
        Field("tool", NAME, "Name of the tool, such as trowel.", required=True),
        Field("count", Number(TOOL_COUNT, whole=True), "How many are fit for use.", required=True),
    ),
    one_line=True,
)
PEOPLE_FILE = Record(
    "people file",
    (
        Field(
            "people_file",
            Number(Bounds(PEOPLE_VERSION, PEOPLE_VERSION, ""), whole=True),
            "Version of this form.",
            left_out=str(PEOPLE_VERSION),
        ),
        Field("workday", WORKDAY, "When it is.", required=True),
        Field("people", ListOf(PERSON, N_PEOPLE), "Who signed up.", required=True),
        Field("teams", ListOf(TEAM, N_TEAMS), "Who stays together.", left_out="nobody"),
        Field("tools", ListOf(TOOL, N_TOOLS), "Tools in the shed.", left_out="enough for everybody"),
    ),
)

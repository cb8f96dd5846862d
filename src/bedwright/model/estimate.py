"""Whether ground, weeks and hours would suffice for the wishes, before any plan is made."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.model.work import Hours, Sufficiency

LEAST_SHORT_H = 0.5
"""Less than half an hour a week is not told as a want of hands: a choice of our own."""


@dataclass(frozen=True, slots=True)
class WishEstimate:
    """One wish: how much of it the ground could hold at most."""

    wish_code: str
    crop: str
    variety: str
    wanted_plants: int
    most_plants: int
    """Plants that find ground if it could be cut without loss."""
    ground_m2: float
    """Ground for all plants wanted, counted once though its sowings may follow one another."""
    in_ground: date | None
    """First day in the ground by the dates counted; None if there is none."""
    clear_by: date | None
    no_window_reason: str = ""
    """Why no date of this season does; plain words."""
    beds_refused: bool = False
    """True: no bed may take it, or not one plant fits."""

    @property
    def short_plants(self) -> int:
        """Plants that find no ground."""
        return max(0, self.wanted_plants - self.most_plants)


@dataclass(frozen=True, slots=True)
class WeekEstimate:
    """One week from a Monday."""

    week: date
    ground_m2: float
    """Ground taken at the fullest moment counted in the week."""
    needed: Hours
    promised_h: float
    sufficiency: Sufficiency
    quiet: str = ""
    """Name of the quiet weeks it falls in."""

    @property
    def short_h(self) -> float:
        """Likely hours beyond those promised."""
        return max(0.0, self.needed.likely_h - self.promised_h)


@dataclass(frozen=True, slots=True)
class SeasonEstimate:
    """Wishes against ground, weeks and hours."""

    ground_m2: float
    """All beds that may be planted."""
    wishes: tuple[WishEstimate, ...]
    """In the order of the book."""
    weeks: tuple[WeekEstimate, ...]
    people_named: bool
    """False: nobody promised hours, so nothing can be said of them."""
    harvest_kg: float
    """Likely harvest of the plants that find ground, of crops whose yield is known."""
    yields_unknown: tuple[str, ...]
    """Crops without a known yield."""
    donation_kg: float
    """Food to be given away, as the goals state."""

    @property
    def short(self) -> tuple[WishEstimate, ...]:
        """Wishes with dates that cannot be met in full for want of ground."""
        return tuple(wish for wish in self.wishes if wish.short_plants and not wish.no_window_reason)

    @property
    def dateless(self) -> tuple[WishEstimate, ...]:
        """Wishes for which no date of the season does."""
        return tuple(wish for wish in self.wishes if wish.no_window_reason)

    @property
    def fullest(self) -> WeekEstimate | None:
        """The week in which most ground is taken."""
        return max(self.weeks, key=lambda week: week.ground_m2, default=None)

    @property
    def short_weeks(self) -> tuple[WeekEstimate, ...]:
        """Weeks whose likely hours are more than those promised, by half an hour or more."""
        return tuple(week for week in self.weeks if week.short_h >= LEAST_SHORT_H)

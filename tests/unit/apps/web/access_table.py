"""Who may open which address: one line for each.

(who may look, who may send), by ability; ANYONE and PERSON need no part in the garden. `None`
where a method is not answered at all. A new address needs a line here, or the test fails.
"""

from __future__ import annotations

from bedwright.apps.web.people.access import ANYONE, PERSON, Ability

READ, RECORD, EDIT, MANAGE = Ability.READ, Ability.RECORD, Ability.EDIT, Ability.MANAGE
Who = str | Ability | None

ACCESS: dict[str, tuple[Who, Who]] = {
    # people
    "people:sign-in": (ANYONE, ANYONE),
    "people:sign-out": (None, ANYONE),
    "people:start": (ANYONE, ANYONE),
    "people:accept": (ANYONE, ANYONE),
    "people:account": (PERSON, PERSON),
    "people:password": (PERSON, PERSON),
    "people:delete-own": (None, PERSON),
    "set-language": (None, ANYONE),
    "garden-people:list": (MANAGE, None),
    "garden-people:invite": (None, MANAGE),
    "garden-people:revoke": (None, MANAGE),
    "garden-people:change-part": (None, MANAGE),
    "garden-people:remove": (None, MANAGE),
    # gardens
    "gardens:list": (PERSON, None),
    "gardens:new": (PERSON, PERSON),
    "gardens:new-from-demo": (None, PERSON),
    "gardens:new-from-book": (PERSON, PERSON),
    "garden:home": (READ, None),
    "garden:take-out": (MANAGE, None),
    "garden:close": (MANAGE, MANAGE),
    # book
    "book:overview": (READ, None),
    "book:text": (READ, EDIT),
    "book:download": (READ, None),
    "book:undo": (None, EDIT),
    "book:redo": (None, EDIT),
    "book:revisions": (READ, None),
    "book:revision": (READ, EDIT),
    "book:download-revision": (READ, None),
    "book:weather": (READ, EDIT),
    "book:weather-upload": (None, EDIT),
    "book:weather-download": (READ, None),
    "book:estimate": (READ, EDIT),
    "book:crops": (READ, None),
    "book:crop": (READ, None),
    "book:section": (READ, EDIT),
    "book:add": (EDIT, EDIT),
    "book:entry": (READ, EDIT),
    # ground
    "ground:plan": (READ, None),
    "ground:now": (READ, None),
    "ground:plants": (READ, None),
    "ground:sun": (None, READ),
    "ground:save": (None, EDIT),
    "ground:step": (None, EDIT),
    # season
    "season:plans": (READ, None),
    "season:make": (None, EDIT),
    "season:compare": (READ, None),
    "season:plan": (READ, None),
    "season:progress": (READ, None),
    "season:stop": (None, EDIT),
    "season:delete": (None, EDIT),
    "season:file": (READ, None),
    "season:planting": (READ, None),
    "season:newest-drawing": (READ, None),
    "season:drawing": (READ, None),
    "season:beds": (READ, None),
    "season:curves": (READ, None),
    "season:why": (READ, None),
    "season:short": (READ, None),
    "season:changes": (READ, None),
    "season:ready": (None, EDIT),
    "season:move": (None, EDIT),
    "season:keep": (None, EDIT),
    "season:kept": (EDIT, None),
    "season:undo-move": (None, EDIT),
    "season:again": (EDIT, EDIT),
    "season:search-on": (None, EDIT),
    "season:pin": (None, EDIT),
    "season:unpin": (None, EDIT),
    "season:undo-pin": (None, EDIT),
    # papers
    "papers:all": (READ, None),
    "papers:paper": (READ, None),
    "papers:everything": (READ, None),
    "papers:add-link": (None, MANAGE),
    "papers:revoke-link": (None, MANAGE),
    "calendar:feed": (ANYONE, None),
    # field
    "field:today": (READ, None),
    "field:state": (READ, None),
    "field:data": (READ, None),
    "field:sync": (None, RECORD),
    "field:photo": (None, RECORD),
    "field:worker": (ANYONE, None),
    "field:pegs": (MANAGE, MANAGE),
    "field:peg-labels": (READ, None),
    "peg:card": (ANYONE, None),
    "peg:worker": (ANYONE, None),
    # log; those who only record correct their own lines, and the one looked at is another's
    "log:entries": (READ, None),
    "log:new": (RECORD, RECORD),
    "log:season": (READ, None),
    "log:begin-next-season": (None, EDIT),
    "log:settle": (None, EDIT),
    "log:table": (READ, None),
    "log:photo": (READ, None),
    "log:entry": (READ, None),
    "log:correct": (EDIT, EDIT),
    "log:strike": (None, EDIT),
}

LATER: frozenset[str] = frozenset()
"""Addresses of pages that are being built and have no line yet; empty in a release."""

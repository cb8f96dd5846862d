"""Texts that the field pages' scripts use; `{name}` stands for what the script puts in."""

from __future__ import annotations

from django.utils.translation import gettext as _


def words() -> dict[str, str]:
    """Every text by its key, in the reader's language."""
    return _common() | _jobs() | _keys() | _rows() | _sending()


def _common() -> dict[str, str]:
    return {
        "today": _("Today"),
        "rows": _("Rows"),
        "weigh": _("Weigh"),
        "rain": _("Rain"),
        "hours": _("Hours"),
        "undo": _("Undo"),
        "undone": _("Taken back."),
        "kept": _("Written down: {what}"),
        "save": _("Save"),
        "yes": _("Yes, save {what}"),
        "loading": _("One moment."),
        "full": _(
            "This phone's storage is full, so this was NOT written down. Free some space, or send what "
            "waits, and save again: what you entered is still here."
        ),
        "no_store": _(
            "This browser keeps nothing, perhaps because it is in private mode. Use another window."
        ),
        "not_kept": _("This was NOT written down: {why}"),
        "readonly": _("Your part in this garden is to read; a coordinator can change that."),
        "no_plan": _("There is no season plan yet. Once one is made, its jobs appear here."),
        "no_data": _(
            "Nothing has been fetched yet. Open this page once where there is a network; after that it works "
            "without."
        ),
        "old_data": _("Fetched {when}. Jobs after {until} are not known without a network."),
        "clock_wrong": _(
            "This phone's clock says {clock}; that cannot be right. Lines are kept, and their day is set "
            "right when they are sent."
        ),
        "insecure": _("This address is not secure (https), so these pages do not open without a network."),
        "signed_out": _("You are signed out. Nothing is lost: {n} wait on this phone."),
        "sign_in": _("Sign in"),
        "closed": _("You have no part in this garden any more. Lines that wait stay on this phone."),
        "min": _("min"),
        "plants": _("plants"),
        "kg": _("kg"),
        "lb": _("lb"),
        "mm": _("mm"),
        "in": _("in"),
        "bed": _("Bed {code}"),
        "note": _("Note"),
        "photo": _("Photo"),
        "photo_ready": _("Photo taken: {n}"),
    }


def _jobs() -> dict[str, str]:
    return {
        "day": _("Today"),
        "week": _("Seven days"),
        "nothing": _("Nothing is due."),
        "next_on": _("The next jobs begin on {day}."),
        "nothing_ahead": _(
            "Nor in the three weeks kept here. Rain, hours and what you see can be written down any day."
        ),
        "under_cover": _("Under cover"),
        "left_over": _("Left from before: {n}"),
        "walk": _("In the order of a short walk from: {start}"),
        "done": _("Done"),
        "part_done": _("Part done"),
        "done_on": _("Done {day}"),
        "done_today": _("Done today"),
        "partly_done": _("Partly done"),
        "how_many": _("How many plants?"),
        "open": _("How"),
        "close": _("Close"),
        "until": _("until {day}"),
        "moved": _("{n} days later than planned, since it went in late"),
        "failed": _("failed"),
        "tools": _("Tools: {tools}"),
        "cautions": _("Take care"),
        "source": _("Source: {source}"),
        "from_peg": _("{start} to {end} from the peg"),
        "waits": _("waits on this phone"),
        "kind prepare": _("Prepare"),
        "kind sow under cover": _("Sow under cover"),
        "kind harden off": _("Harden off"),
        "kind sow": _("Sow"),
        "kind set out": _("Set out"),
        "kind cover": _("Cover at night"),
        "kind thin": _("Thin"),
        "kind mulch": _("Mulch round"),
        "kind support": _("Put up supports"),
        "kind earth up": _("Earth up"),
        "kind pick": _("Pick"),
        "kind cut down": _("Cut down"),
        "kind clear": _("Clear"),
        "kind weed": _("Weed"),
        "kind water": _("Water"),
        "kind raise": _("Look after trays"),
        "kind side dress": _("Feed along the row"),
    }


def _keys() -> dict[str, str]:
    return {
        "what_picked": _("What is in the crate?"),
        "change": _("Change"),
        "due_now": _("To be picked now"),
        "other_crops": _("Other crops"),
        "repeat": _("Again {what}"),
        "delete": _("Delete last figure"),
        "nothing_typed": _("Type the weight first."),
        "rain_typed": _("Type the reading first; 0 is a reading too."),
        "much": _("{what} is a lot for one crate. Is it right?"),
        "much_rain": _("{what} is a lot of rain. Is it right?"),
        "crates": _("Weighed on this phone today"),
        "total": _("Together {what}"),
        "gauge": _("Rain gauge"),
        "gauge_help": _("Read at eye level, write it down, then empty the gauge."),
        "point": _("."),
        "come": _("Sign in to work"),
        "leave": _("Sign out of work"),
        "people": _("People"),
        "fewer": _("One fewer"),
        "more": _("One more"),
        "came_at": _("Since {time}, people: {n}"),
        "long_day": _("That is {hours} hours. If somebody forgot to sign out, put the hours right:"),
        "hours_each": _("Hours each"),
        "worked": _("{hours} h, people: {n}"),
        "nobody": _("Nobody is signed in on this phone."),
        "worked_today": _("Signed out today"),
    }


def _rows() -> dict[str, str]:
    return {
        "find_row": _("Find a row"),
        "no_row": _("This plan has no row {code}. The peg may be from an earlier plan."),
        "sow_on": _("to be sown {day}"),
        "set_on": _("to be set out {day}"),
        "sown_on": _("sown {day}"),
        "set_out_on": _("set out {day}"),
        "late_by": _("{n} days late"),
        "pick_from": _("Picking: {start} to {end}"),
        "plants_left": _("Plants: {left} of {n}"),
        "picked_kg": _("Picked so far: {what}"),
        "eaten": _("Eaten: {parts}"),
        "not_eaten": _("Not to be eaten: {parts}"),
        "jobs_here": _("Jobs here"),
        "through": _("Seedlings are through"),
        "count": _("Count plants"),
        "lost": _("Plants lost"),
        "all_lost": _("All are lost"),
        "write_note": _("Note or photo"),
        "card": _("Card for visitors"),
        "others_here": _("Also in this bed"),
        "write_down": _("Write down"),
        "empty_note": _("Write a note or take a photo first."),
        "log sown under cover": _("sown under cover"),
        "log sown": _("sown"),
        "log set out": _("set out"),
        "log emerged": _("seedlings through"),
        "log thinned": _("thinned"),
        "log counted": _("counted"),
        "log failed": _("lost"),
        "log picked": _("picked"),
        "log cleared": _("cleared"),
        "log watered": _("watered"),
        "log weeded": _("weeded"),
        "log rain": _("rain"),
        "log work": _("work"),
        "log came": _("signed in to work"),
        "log left": _("signed out of work"),
        "log seen": _("note"),
        "log struck": _("taken back"),
    }


def _sending() -> dict[str, str]:
    return {
        "waiting": _("Waiting: {n}"),
        "all_sent": _("All sent"),
        "offline": _("No network"),
        "sent_title": _("Lines on this phone"),
        "sent_help": _(
            "What you write down is kept on this phone first and sent as soon as there is a network, once, "
            "also after the phone was off."
        ),
        "send_now": _("Send now"),
        "sending": _("Sending…"),
        "refused": _("Not taken: {why}"),
        "other": _("Written by another person; it is sent once they sign in on this phone."),
        "photo_waits": _("Photos waiting: {n}"),
        "photo_refused": _("Photo not taken: {why}"),
        "discard": _("Delete from this phone"),
        "discard_sure": _("Press again to delete it for good"),
        "nothing_waits": _("Nothing is waiting."),
        "no_answer": _("The server did not answer; it is tried again by itself."),
        "to_log": _("Open the log"),
        "attention": _("Needs you: {n}"),
    }

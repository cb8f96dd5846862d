"""What the drawing says: texts handed to the scripts, in the language of the person."""

from __future__ import annotations

from django.utils.translation import gettext as _


def texts() -> dict[str, str]:
    """Every text of the scripts by its name; words in braces are put in there."""
    return {**_things(), **_doing(), **_saving(), **_measuring(), **_sun()}


def _things() -> dict[str, str]:
    return {
        "bed": _("bed"),
        "feature": _("feature"),
        "bed_code": _("bed {code}"),
        "datum": _("site datum"),
        "number": _("No."),
        "remove": _("Remove"),
        "left": _("left"),
        "right": _("right"),
        "nothing": _("nothing"),
        "somebody": _("somebody"),
        "please_choose": _("please choose"),
        "across_size": _("{size} across"),
        "high_size": _("{size} high"),
        "not_saved": _("not saved yet"),
        "chosen": _("{what} is chosen."),
        "nothing_chosen": _("Nothing chosen"),
        "none_chosen": _("Nothing is chosen."),
        "choose_first": _("Choose a thing first."),
    }


def _doing() -> dict[str, str]:
    return {
        "hint_box": _("Drawing: {what}. Press at one corner and pull to the opposite one."),
        "hint_round": _("Drawing: {what}. Press in the middle and pull outwards."),
        "hint_spot": _("Drawing: {what}. Press where it stands."),
        "hint_ring": _("Drawing: {what}. Press at each corner in order, then finish."),
        "hint_run": _("Drawing: {what}. Press at each corner along it, then finish."),
        "corner_set": _("Corner {number} is set."),
        "more_corners": _("At least {least} corners are needed."),
        "too_small": _("Too small to be drawn; pull further."),
        "stopped": _("Drawing has ended; nothing was added."),
        "added_note": _("{what} is added and chosen. Its sizes are for a start: set them right."),
        "removed_note": _("{what} is removed. Undo brings it back."),
        "moved_to": _("{what} is now at {east} east, {north} north."),
        "turned_to": _("{what} now bears {bearing} degrees."),
        "undone": _("Undone: {what}."),
        "redone": _("Done again: {what}."),
        "undo_what": _("Undo: {what}"),
        "redo_what": _("Do again: {what}"),
        "note_moved": _("moved {what}"),
        "note_turned": _("turned {what}"),
        "note_changed": _("changed {what}"),
        "note_added": _("added {what}"),
        "note_removed": _("removed {what}"),
        "print_scale": _("Scale {scale}, if printed at 100 %."),
    }


def _saving() -> dict[str, str]:
    return {
        "saving": _("Saving …"),
        "saved": _("Saved as revision {revision}."),
        "saved_merged": _("Saved as revision {revision}, put together with what {author} changed meanwhile."),
        "nothing_changed": _("Nothing was different; no revision was made."),
        "unsaved_count": _("Steps not saved: {count}"),
        "all_saved": _("All saved, revision {revision}"),
        "not_saved_because": _("Not saved: {why}"),
        "not_saved_problems": _("Not saved yet. Problems: {count}"),
        "fields_first": _("Not saved yet: a field has no sound value."),
        "got_expected": _("got {got}; expected {low} to {high} {unit}"),
        "got_words": _("got {got}; expected {expected}."),
        "no_connection": _("The application cannot be reached just now. Your steps are kept on this page."),
        "signed_out": _("You are not signed in any more. Sign in in another window, then save again."),
        "not_allowed": _("Your part in this garden does not allow it."),
        "conflict_by": _(
            "{author} saved revision {revision}. Theirs is drawn dashed. Choose for each entry:"
        ),
        "keep_theirs": _("as {author} has it"),
        "keep_gone": _("removed, as {author} has it"),
        "keep_mine": _("as I have it"),
        "save_so": _("Save it like this"),
        "drop_mine": _("Give up all my steps"),
        "changed_by": _(
            "{author} has saved revision {revision} meanwhile. When you save, both changes are put together."
        ),
        "taken_over": _("{author} has saved revision {revision}; it is shown now."),
        "beds_named": _("Beds you removed are still named in wishes or in the history."),
        "forget_beds": _("Save, and take {codes} out of wishes and history"),
        "undo_revision": _("Undo revision {revision}: {note} ({author})"),
        "redo_revision": _("Do again what was undone last"),
        "revision_undone": _("Undone and saved as revision {revision}."),
        "revision_redone": _("Done again and saved as revision {revision}."),
    }


def _measuring() -> dict[str, str]:
    return {
        "position_is": _("{east} east, {north} north"),
        "peg_of": _("peg of {what}"),
        "corner_of": _("corner {number} of {what}"),
        "whole_thing": _("{what} as a whole, by its peg, centre or first corner"),
        "tapes_do_not_meet": _("The tapes do not meet: the two points are {base} apart."),
        "same_point": _("The two known points are the same."),
        "distances_missing": _("Two distances are needed."),
        "now_measures": _(
            "{what} as drawn: {first} from {one}, {second} from {other}; or {along} along the line and "
            "{off} to the {side}."
        ),
    }


def _sun() -> dict[str, str]:
    return {
        "hours_short": _("{hours} h"),
        "hours_here": _("{hours} h of sun"),
        "hours_under": _("under {hours} h"),
        "hours_from": _("{hours} h and more"),
        "sun_note": _("Looked at every {cell}. Clear sky; shade of crops is left out."),
        "no_plan": _("There is no season plan yet."),
    }

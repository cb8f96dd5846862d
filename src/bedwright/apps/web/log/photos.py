"""Photographs of the log: known by their content, made small, freed of everything but the picture."""

from __future__ import annotations

import io
import os
import tempfile
import warnings
from pathlib import Path
from typing import Literal
from uuid import UUID

from django.db.models.signals import post_delete
from django.utils.translation import gettext as _
from PIL import Image, ImageOps, UnidentifiedImageError

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.models import LogPhoto

MOST_BYTES = 12_000_000
MOST_PIXELS = 60_000_000
LONGEST_SIDE_PX = 1600
QUALITY = 82
FORMATS = ("JPEG", "PNG", "WEBP")


class BadPhotoError(Exception):
    """A file that is not kept, and why."""


def keep_photo(garden: Garden, client_id: UUID, entry_id: UUID, content: bytes) -> Literal["kept", "had"]:
    """Keep a photograph once.

    The picture is set upright, made no longer than 1600 pixels and written anew as JPEG:
    place, time, maker and thumbnail that a camera hides in the file are gone with the old file.

    Parameters
    ----------
    garden
        The garden it is from.
    client_id
        Its id, made by the sender; a second file under the same id is not looked at.
    entry_id
        Id of the line it belongs to, which may still be on its way.
    content
        The file as it came.

    Raises
    ------
    BadPhotoError
        If it is too large or no picture of a known kind, judged by its content.
    """
    if garden.log_photos.filter(client_id=client_id).exists():
        return "had"
    picture, size = _clean(content)
    photo = LogPhoto(
        garden=garden,
        client_id=client_id,
        entry_id_of_client=entry_id,
        n_bytes=len(picture),
        width_px=size[0],
        height_px=size[1],
    )
    # The file first: a row whose file is missing would be a promise broken.
    _write_whole(photo.path, picture)
    _row, made = LogPhoto.objects.get_or_create(
        garden=garden,
        client_id=client_id,
        defaults={
            "entry_id_of_client": entry_id,
            "n_bytes": photo.n_bytes,
            "width_px": photo.width_px,
            "height_px": photo.height_px,
        },
    )
    return "kept" if made else "had"


def _clean(content: bytes) -> tuple[bytes, tuple[int, int]]:
    if len(content) > MOST_BYTES:
        raise BadPhotoError(
            _("The photograph has %(got).0f MB; at most %(most).0f MB are taken.")
            % {"got": len(content) / 1e6, "most": MOST_BYTES / 1e6}
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(content), formats=FORMATS) as opened:
                if opened.width * opened.height > MOST_PIXELS:
                    raise BadPhotoError(_("The photograph has too many pixels."))
                opened.draft("RGB", (LONGEST_SIDE_PX, LONGEST_SIDE_PX))
                upright = ImageOps.exif_transpose(opened).convert("RGB")
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError, Image.DecompressionBombError,
            Image.DecompressionBombWarning) as error:  # fmt: skip
        raise BadPhotoError(_("This is no photograph in JPEG, PNG or WebP, or a damaged one.")) from error
    upright.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    # A new picture of the pixels alone, so that nothing else can come along.
    plain = Image.new("RGB", upright.size)
    plain.paste(upright)
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue(), plain.size


def _write_whole(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    descriptor, name = tempfile.mkstemp(dir=path.parent, prefix=".photo-")
    try:
        with os.fdopen(descriptor, "wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _forget_file(sender: object, instance: LogPhoto, **_kwargs: object) -> None:
    instance.path.unlink(missing_ok=True)


def watch_deletions() -> None:
    """Delete the file with its row, also when a whole garden is deleted."""
    post_delete.connect(_forget_file, sender=LogPhoto, dispatch_uid="log photo file")

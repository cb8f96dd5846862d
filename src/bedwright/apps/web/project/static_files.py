"""Static files under names that carry a digest of their content."""

from __future__ import annotations

from whitenoise.storage import CompressedManifestStaticFilesStorage


class NamedByContent(CompressedManifestStaticFilesStorage):  # type: ignore[misc]  # has no types
    """Also rewrites the names that one JavaScript module imports another by."""

    support_js_module_import_aggregation = True

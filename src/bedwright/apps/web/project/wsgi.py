"""The application as any WSGI server can run it."""

from __future__ import annotations

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bedwright.apps.web.project.settings")
application = get_wsgi_application()

"""The application's settings for tests: a data folder of their own, cheap passwords, plain static files."""

import os
import tempfile

os.environ["BEDWRIGHT_DATA"] = tempfile.mkdtemp(prefix="bedwright-tests-")
os.environ["BEDWRIGHT_SECRET_KEY"] = "only for tests, never for a garden"  # noqa: S105
for _name in ("BEDWRIGHT_HTTPS", "BEDWRIGHT_TRUSTED_PROXY", "BEDWRIGHT_LANGUAGE", "BEDWRIGHT_HOSTS"):
    os.environ.pop(_name, None)

from bedwright.apps.web.project.settings import *  # noqa: E402, F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
ALLOWED_HOSTS = ["*"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = True

# A file and no memory: the live server, the worker and the test each have a connection of their own.
DATABASES["default"]["TEST"] = {"NAME": f"{os.environ['BEDWRIGHT_DATA']}/tests.sqlite3"}  # noqa: F405

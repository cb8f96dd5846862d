"""Django's settings, all of them; what may differ between places comes from the environment."""

from __future__ import annotations

from pathlib import Path

from django.utils.translation import gettext_lazy as _

from bedwright.apps.web.project.environment import database, read_environment

ENVIRONMENT = read_environment()
DATA = ENVIRONMENT.data
WEB = Path(__file__).resolve().parent.parent

DEBUG = False
SECRET_KEY = ENVIRONMENT.secret_key
ALLOWED_HOSTS = list(ENVIRONMENT.hosts)
CSRF_TRUSTED_ORIGINS = list(ENVIRONMENT.origins)

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "django_tasks",
    "django_tasks_db",
    "bedwright.apps.web.people",
    "bedwright.apps.web.gardens",
    "bedwright.apps.web.season",
    "bedwright.apps.web.papers",
    "bedwright.apps.web.ground",
    "bedwright.apps.web.field",
    "bedwright.apps.web.log",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "bedwright.apps.web.project.headers.security_headers",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "bedwright.apps.web.people.language.language_of_person",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]

ROOT_URLCONF = "bedwright.apps.web.project.urls"
WSGI_APPLICATION = "bedwright.apps.web.project.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [WEB / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "builtins": ["bedwright.apps.web.sentences.filters"],
            "context_processors": [
                "django.template.context_processors.request",
                "django.template.context_processors.i18n",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "bedwright.apps.web.gardens.navigation.navigation",
            ],
        },
    },
]

DATABASES = {"default": database(ENVIRONMENT.database_url, DATA)}
CACHES = {
    "default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"},
    # Parts of pages of plans, some 150 KB each; what they are kept under holds all they depend on.
    "template_fragments": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "LOCATION": "parts of pages",
        "OPTIONS": {"MAX_ENTRIES": 100},
    },
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "people.User"
LOGIN_URL = "people:sign-in"
LOGIN_REDIRECT_URL = "gardens:list"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]

LANGUAGE_CODE = ENVIRONMENT.language
LANGUAGES = [("en", _("English")), ("de", _("German"))]
LOCALE_PATHS = [WEB / "locale"]
USE_I18N = True
FORMAT_MODULE_PATH = ["bedwright.apps.web.project.formats"]
USE_TZ = True
TIME_ZONE = "UTC"

STATIC_URL = "static/"
STATIC_ROOT = DATA / "static"
STATICFILES_DIRS = [WEB / "static"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "bedwright.apps.web.project.static_files.NamedByContent"},
}
MEDIA_ROOT = DATA / "media"
MADE_PAPERS = DATA / "papers"
"""Papers already set; all of it can be made again, so it is in no backup."""

TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}

# Uploads: a weather record of 50 MB is the largest thing anyone has a reason to send.
DATA_UPLOAD_MAX_MEMORY_SIZE = 4_000_000
DATA_UPLOAD_MAX_NUMBER_FIELDS = 20_000
FILE_UPLOAD_MAX_MEMORY_SIZE = 4_000_000

SESSION_COOKIE_AGE = 60 * 60 * 24 * 30
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "bedwright.apps.web.project.faults.form_too_old"
X_FRAME_OPTIONS = "DENY"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
if ENVIRONMENT.https:
    SECURE_SSL_REDIRECT = True
    SESSION_COOKIE_SECURE = True
    CSRF_COOKIE_SECURE = True
    SECURE_HSTS_SECONDS = 60 * 60 * 24 * 365
    SECURE_HSTS_INCLUDE_SUBDOMAINS = True
    SECURE_HSTS_PRELOAD = True

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["console"], "level": "INFO"},
    "loggers": {
        # Django adds a handler of its own otherwise, and every line would come twice.
        "django": {"handlers": ["console"], "level": "INFO", "propagate": False},
        "bedwright": {"level": "INFO"},
    },
}

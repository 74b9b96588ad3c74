"""The one settings file; what differs between machines is read from CARTON_HOUR_… and fails loudly."""

import os
from datetime import timedelta
from pathlib import Path

from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured

from coop.environment import (
    database,
    flag,
    keep_compiled_engines,
    kept_secret,
    own_hosts,
    own_secret,
    text,
    version,
    whole,
    words,
    writable_folder,
)
from coop.screens import caching

ROOT = Path(__file__).resolve().parent.parent


DATA = writable_folder(Path(text("DATA", str(ROOT / ".data"))).resolve())
# Whether strangers reach it: then nothing is drawn or guessed, and everything travels encrypted.
PRODUCTION = flag("PRODUCTION", default=False)
KEPT_SECRET = DATA / "secret_key"
SECRET_KEY = own_secret(KEPT_SECRET) if PRODUCTION else text("SECRET_KEY", None) or kept_secret(KEPT_SECRET)
DEBUG = flag("DEBUG", default=False)
if DEBUG and PRODUCTION:
    raise ImproperlyConfigured("CARTON_HOUR_DEBUG is yes: its pages show secrets, so in production it is no.")
ALLOWED_HOSTS = own_hosts() if PRODUCTION else words("HOSTS", default="127.0.0.1,localhost,[::1]")
# Proxies of ours in front of it: only what these append to X-Forwarded-For is believed.
PROXIES = whole("PROXIES", default=0, least=0, most=5)
# Pages of an older version may not write: set it when what they send would be misread.
OLDEST_APP = version("OLDEST_APP", default="0.0.0")
SERVER_THREADS = whole("THREADS", default=8, least=1, most=64)
# Cores that one answer may use for its thermal runs.
CORES = whole("CORES", default=min(os.cpu_count() or 1, 64), least=1, most=64)
# An answer is kept under a key of everything it rests on, so it never goes stale; this only frees memory.
ANSWER_SECONDS = 24 * 3600

keep_compiled_engines(ROOT / "coop" / "engines", DATA / "numba")

INSTALLED_APPS = [
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "rest_framework",
    "django_filters",
    "knox",
    "axes",
    "simple_history",
    "coop",
]

MIDDLEWARE = [
    # Outermost: every answer has them, those of files and of failures, too.
    "coop.headers.security_headers",
    "csp.middleware.CSPMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "coop.screens.Screens",
    "django.middleware.gzip.GZipMiddleware",
    "api.caching.personal_answers",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.http.ConditionalGetMiddleware",
    "django.middleware.common.CommonMiddleware",
    "api.refusal_words.refusals_told",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    # It says "not now" in place of whatever a locked-out sign-in got.
    "axes.middleware.AxesMiddleware",
    # Innermost: nothing but the view itself lies within the transaction of a write.
    "api.writes.Writes",
]

ROOT_URLCONF = "coop.urls"
WSGI_APPLICATION = "coop.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [ROOT / "api" / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ]
        },
    }
]

SQLITE = {
    "ENGINE": "django.db.backends.sqlite3",
    "NAME": DATA / "carton_hour.sqlite3",
    "OPTIONS": {
        # A transaction takes the lock when it begins: it waits then, and never fails half-way.
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL;",
    },
}
DATABASES = {"default": database(SQLITE)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "OPTIONS": {"MAX_ENTRIES": 2000},
    },
    # By themselves: no number of questions pushes out who tried too often.
    "tries": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "LOCATION": "tries",
        "OPTIONS": {"MAX_ENTRIES": 100_000},
    },
}

# First of them: it lets nobody try who failed too often.
AUTHENTICATION_BACKENDS = ["axes.backends.AxesStandaloneBackend", "django.contrib.auth.backends.ModelBackend"]
# Those behind it read what was hashed before; a sign-in hashes it anew with the first.
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]

# Nothing but our own files, and none of it written into a page: no script, style, form or frame of others.
# Every answer carries it, paid for by the byte: what `default-src` says is not said again.
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "object-src": [NONE],
        "base-uri": [NONE],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
    }
}
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
if PRODUCTION:
    SECURE_SSL_REDIRECT = SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = True
    # Browsers that were here once come encrypted or not at all, for so long.
    SECURE_HSTS_SECONDS = 86400 * whole("HSTS_DAYS", default=365, least=1, most=730)
    SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = True
    # Our proxy says how it was reached. Without one the header is whatever its sender likes.
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if PROXIES else None

# Without this a fault would be told to nobody unless DEBUG is on.
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "filters": {"without_secrets": {"()": "coop.logged.WithoutSecrets"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "filters": ["without_secrets"]}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    # A question that cannot be answered is no news; a fault is.
    "loggers": {"django.request": {"level": "ERROR"}},
}

LANGUAGE_CODE = "en"
TIME_ZONE = "UTC"
USE_TZ = True
FIXTURE_DIRS = [ROOT / "fixtures"]

STATIC_URL = "/static/"
STATICFILES_DIRS = [ROOT / "api" / "static"]
FRONTEND = ROOT / "frontend"
SCREENS = FRONTEND / "dist"
WHITENOISE_ADD_HEADERS_FUNCTION = caching
WHITENOISE_MIMETYPES = {".webmanifest": "application/manifest+json"}
# Vite names these by their content.
WHITENOISE_IMMUTABLE_FILE_TEST = r"^/assets/"
# The admin's own files come straight from the packages: no copy to keep in step.
WHITENOISE_USE_FINDERS = True
WHITENOISE_ALLOW_ALL_ORIGINS = False
WHITENOISE_AUTOREFRESH = False

# 64 hexadecimal digits of the system's own randomness, so 256 bits; stored as SHA-512. When a token ends
# is decided where it is made.
KNOX_TOKEN_MODEL = "coop.PhoneToken"
REST_KNOX = {"AUTH_TOKEN_CHARACTER_LENGTH": 64}

# Five wrong passwords for one name from one place, and that name waits there: elsewhere its owner enters.
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_ON_SUCCESS = True
# Otherwise whoever goes on trying would keep the owner out for ever.
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_CLIENT_IP_CALLABLE = "api.callers.address_of"
AXES_LOCKOUT_CALLABLE = "api.errors.locked_out"
AXES_DISABLE_ACCESS_LOG = True
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False

REST_FRAMEWORK = {
    "EXCEPTION_HANDLER": "api.errors.answer",
    "DEFAULT_SCHEMA_CLASS": "api.openapi.Inspector",
    # An answer is always JSON, so ?format= is a parameter like any other unknown one.
    "URL_FORMAT_OVERRIDE": None,
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["api.body.JsonBody"],
    "DEFAULT_AUTHENTICATION_CLASSES": ["api.authentication.PhoneAuthentication"],
    "DEFAULT_PERMISSION_CLASSES": ["api.roles.MayAsk"],
    "UNAUTHENTICATED_USER": None,
}

SPECTACULAR_SETTINGS = {
    "TITLE": "Carton Hour",
    "VERSION": "1",
    "DESCRIPTION": "Which departure a carton of frozen fish may take, until when, at what cost a kilogram."
    "\n\nA write may carry `Idempotency-Key`, one UUID: a second copy gets the first answer, the same key "
    "with something else 422. It may carry `If-Match` with the `edition` of the row in quotes: once the row "
    "has changed it is refused with 409, `current` and `sent`. Pages send `App-Version`; those that are too "
    "old to write get 426.",
    "SCHEMA_PATH_PREFIX": "/api/v1/",
}

"""The one settings file; what differs between machines is read from CARTON_HOUR_… and fails loudly."""

import hashlib
import os
from datetime import timedelta
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured
from django.core.management.utils import get_random_secret_key

from coop.screens import caching

ROOT = Path(__file__).resolve().parent.parent


def text(name, default):
    """CARTON_HOUR_<name> as text; an empty one is a mistake, not a default."""
    value = os.environ.get(f"CARTON_HOUR_{name}", default)
    if value is not None and not value.strip():
        raise ImproperlyConfigured(f"CARTON_HOUR_{name} is set but empty: give it a value or unset it.")
    return value


def flag(name, *, default):
    """CARTON_HOUR_<name> as yes or no."""
    value = text(name, "yes" if default else "no").lower()
    if value not in ("yes", "no"):
        raise ImproperlyConfigured(f"CARTON_HOUR_{name} is {value!r}: write yes or no.")
    return value == "yes"


def whole(name, *, default, least, most):
    """CARTON_HOUR_<name> as a whole number between two bounds."""
    value = text(name, str(default))
    if not value.isdecimal() or not least <= int(value) <= most:
        raise ImproperlyConfigured(f"CARTON_HOUR_{name} is {value!r}: write a number {least} to {most}.")
    return int(value)


def words(name, *, default):
    """CARTON_HOUR_<name> as a list parted by commas."""
    return [word.strip() for word in text(name, default).split(",") if word.strip()]


def writable_folder(path):
    """`path`, made if it was missing; one that cannot be written to stops the start with one sentence."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as failure:
        raise ImproperlyConfigured(
            f"The data folder {path} cannot be made ({failure.strerror}): name another in CARTON_HOUR_DATA."
        ) from failure
    if not os.access(path, os.W_OK | os.X_OK):
        raise ImproperlyConfigured(
            f"The data folder {path} cannot be written to: name another in CARTON_HOUR_DATA."
        )
    return path


def read_secret(path):
    try:
        return path.read_text(encoding="ascii")
    except OSError as failure:
        raise ImproperlyConfigured(f"The secret in {path} cannot be read: {failure.strerror}.") from failure


def kept_secret(path):
    """The secret of this data folder, drawn at the first start. It never leaves the folder."""
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return read_secret(path)
    secret = get_random_secret_key()
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(secret)
    return secret


def keep_compiled_engines(source, folder):
    """Lets numba keep what it compiled in the data folder, under a name of all source that is compiled.

    numba looks only at the file of the function that is called: beside the source it would go on running
    an old inner function after an update. It reads this when first imported: it is set before. What is
    compiled calls and reads only files that speak of `compiled` themselves; a test of the house holds that.
    """
    files = [path.read_bytes() for path in sorted(source.glob("*.py"))]
    content = b"".join(file for file in files if b"compiled" in file)
    name = hashlib.sha256(content).hexdigest()[:16]
    os.environ.setdefault("NUMBA_CACHE_DIR", str(folder / name))


DATA = writable_folder(Path(text("DATA", str(ROOT / ".data"))).resolve())
SECRET_KEY = text("SECRET_KEY", None) or kept_secret(DATA / "secret_key")
DEBUG = flag("DEBUG", default=False)
ALLOWED_HOSTS = words("HOSTS", default="127.0.0.1,localhost,[::1]")
# Proxies of ours in front of it: only what these append to X-Forwarded-For is believed.
PROXIES = whole("PROXIES", default=0, least=0, most=5)
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
    "coop",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "coop.screens.Screens",
    "django.middleware.gzip.GZipMiddleware",
    "api.caching.personal_answers",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.http.ConditionalGetMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    # Last: it says "not now" in place of whatever a locked-out sign-in got.
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "coop.urls"
WSGI_APPLICATION = "coop.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
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

DATABASES = {
    "default": {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": DATA / "carton_hour.sqlite3",
        "OPTIONS": {
            # A transaction takes the lock when it begins: it waits then, and never fails half-way.
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,
            "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL;",
        },
    }
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "OPTIONS": {"MAX_ENTRIES": 2000},
    }
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

# Without this a fault would be told to nobody unless DEBUG is on.
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    # A question that cannot be answered is no news; a fault is.
    "loggers": {"django.request": {"level": "ERROR"}},
}

LANGUAGE_CODE = "en"
TIME_ZONE = "UTC"
USE_TZ = True
FIXTURE_DIRS = [ROOT / "fixtures"]

STATIC_URL = "/static/"
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
    "DESCRIPTION": "Which departure a carton of frozen fish may take, until when, at what cost a kilogram.",
    "SCHEMA_PATH_PREFIX": "/api/v1/",
}

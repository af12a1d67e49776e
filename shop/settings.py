"""All settings, in one file. Every variable is listed in .env.example and explained in README.md."""

import sys
from pathlib import Path
from urllib.parse import urlsplit

import dj_database_url
from csp.constants import NONE, SELF

from shop.ground import env_file
from shop.lib import env
from shop.lib.secret_key import kept_secret_key
from shop.lib.static_policy import static_policy

BASE_DIR = Path(__file__).resolve().parent.parent
TESTING = "pytest" in sys.modules
if not TESTING:
    env_file.load(BASE_DIR / ".env")
DATA_DIR = env.folder("WORKSHOP_DATA", BASE_DIR / ".data")

DEBUG = env.flag("WORKSHOP_DEBUG")
SECRET_KEY = env.text("WORKSHOP_SECRET_KEY") or kept_secret_key(DATA_DIR / "secret-key")
BEHIND_HTTPS = env.flag("WORKSHOP_BEHIND_HTTPS")
PROXY = env.address("WORKSHOP_PROXY", "127.0.0.1")  # whose word on a client and on HTTPS is taken

# The address that links in mails and QR codes start with.
PUBLIC_ADDRESS = (env.text("WORKSHOP_PUBLIC_ADDRESS") or "http://127.0.0.1:8000").rstrip("/")
PUBLIC_HOST = urlsplit(PUBLIC_ADDRESS).hostname or "localhost"
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]", PUBLIC_HOST, *env.words("WORKSHOP_HOSTS")]
CSRF_TRUSTED_ORIGINS = [PUBLIC_ADDRESS] if PUBLIC_ADDRESS.startswith("https://") else []

ROOMS = [
    "shop.staff",
    "shop.people",
    "shop.instruments",
    "shop.stock",
    "shop.orders",
    "shop.worksheets",
    "shop.billing",
    "shop.handover",
    "shop.figures",
]

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.forms",
    "csp",
    "crispy_forms",
    "crispy_bootstrap5",
    "django_htmx",
    "django_otp",
    "django_otp.plugins.otp_totp",
    "django_otp.plugins.otp_static",
    "geometry",
    *ROOMS,
]

MIDDLEWARE = [
    "shop.lib.logs.RequestLog",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "shop.lib.packing.PackWords",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "shop.staff.guard.EntryMiddleware",
    # Nothing is reachable without signing in unless its view says so.
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "shop.staff.zone.WorkshopMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "shop.lib.moved.FollowMoved",
    "shop.lib.only_forms.TellWhereTo",
    "shop.lib.sending.AskToWait",
]

ROOT_URLCONF = "shop.urls"
WSGI_APPLICATION = "shop.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "shop.staff.context.workshop",
            ],
            "builtins": [
                "shop.lib.templatetags.said",
                "shop.lib.templatetags.sums",
                "shop.lib.templatetags.quick_url",
            ],
            "libraries": {"fields": "shop.lib.templatetags.fields"},
        },
    }
]
FORM_RENDERER = "django.forms.renderers.TemplatesSetting"
CRISPY_ALLOWED_TEMPLATE_PACKS = "bootstrap5"
CRISPY_TEMPLATE_PACK = "bootstrap5"

# A connection is kept from one request to the next: to open one took longer than many a page.
DATABASES = {
    "default": dj_database_url.parse(
        env.database(file=DATA_DIR / "shop.sqlite3"), conn_max_age=600, conn_health_checks=True
    )
}
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATABASES["default"]["OPTIONS"] = {
        # A transaction that will write says so when it begins: readers never fail halfway with 'locked'.
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;",
    }
# In the database, since every web worker has to know what another one counted.
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.db.DatabaseCache",
        "LOCATION": "cache",
        "OPTIONS": {"MAX_ENTRIES": 50_000},
    }
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "staff.Person"
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign-in"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]

LANGUAGE_CODE = "en-gb"
TIME_ZONE = "UTC"
USE_TZ = True
USE_I18N = True

STATIC_URL = "/static/"
STATIC_ROOT = DATA_DIR / "static"
STATICFILES_DIRS = [BASE_DIR / "static"]
# Photographs and kept papers: never served by path. Several machines share one folder.
FILES_ROOT = env.folder("WORKSHOP_FILES", DATA_DIR / "files")
BACKUPS_ROOT = env.folder("WORKSHOP_BACKUPS", DATA_DIR / "backups")
BACKUP_EVERY_HOURS = env.whole("WORKSHOP_BACKUP_EVERY_HOURS", 24)  # 0: only by hand
STORAGES = {
    "default": {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {"location": FILES_ROOT, "base_url": None, "file_permissions_mode": 0o600},
    },
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if TESTING or DEBUG
        else "shop.lib.static_storage.StaticStorage"
    },
}
WHITENOISE_KEEP_ONLY_HASHED_FILES = True  # half the work of the first start
WHITENOISE_ADD_HEADERS_FUNCTION = static_policy
DATA_UPLOAD_MAX_MEMORY_SIZE = 12 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000

# Mail: SMTP when a server is named, otherwise a local outbox folder that the app shows.
SMTP_HOST = env.text("WORKSHOP_SMTP_HOST")
EMAIL_BACKEND = env.text(
    "WORKSHOP_MAIL_BACKEND",
    "django.core.mail.backends.smtp.EmailBackend" if SMTP_HOST else "django.core.mail.backends.filebased.EmailBackend",
)
EMAIL_FILE_PATH = DATA_DIR / "outbox"
EMAIL_HOST = SMTP_HOST or "localhost"
EMAIL_PORT = env.whole("WORKSHOP_SMTP_PORT", 587)
EMAIL_HOST_USER = env.text("WORKSHOP_SMTP_USER")
EMAIL_HOST_PASSWORD = env.text("WORKSHOP_SMTP_PASSWORD")
EMAIL_USE_SSL = env.flag("WORKSHOP_SMTP_SSL")
EMAIL_USE_TLS = env.flag("WORKSHOP_SMTP_TLS", default=bool(SMTP_HOST) and not EMAIL_USE_SSL)
EMAIL_TIMEOUT = 20
# The address mails come from, where the server wants its own; answers still go to the workshop.
MAIL_FROM = env.text("WORKSHOP_MAIL_FROM")
DEFAULT_FROM_EMAIL = MAIL_FROM or "workshop@localhost"
MAIL_IS_LOCAL = EMAIL_BACKEND.endswith("filebased.EmailBackend")

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
    }
}
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"
SESSION_ENGINE = "shop.staff.sessions"
OTP_TOTP_THROTTLE_FACTOR = OTP_STATIC_THROTTLE_FACTOR = 0  # shop.staff.codes.TRIES does it, with an end to the waits
PASSWORD_RESET_TIMEOUT = 3600
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"  # Strict would drop the session when a tag's QR code is scanned from outside
CSRF_COOKIE_SAMESITE = "Strict"
CSRF_COOKIE_HTTPONLY = True
SESSION_COOKIE_AGE = 14 * 24 * 3600
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"
if BEHIND_HTTPS:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    SECURE_SSL_REDIRECT = True
    SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = True
    SECURE_HSTS_SECONDS = 365 * 24 * 3600
    SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = True

if TESTING:
    PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]

# Requests that take longer than this are noted in the log. [ms]
SLOW_REQUEST_MS = env.whole("WORKSHOP_SLOW_MS", 1000)
# What a monitor has to bring along to read figures at /health/; without it only good or bad is said.
MONITOR_TOKEN = env.text("WORKSHOP_MONITOR_TOKEN")
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"lines": {"()": "shop.lib.logs.Lines"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "lines"}},
    "root": {"handlers": ["stderr"], "level": "WARNING"},
    "loggers": {
        "shop": {"level": "INFO"},
        "django.request": {"level": "ERROR"},  # what is forbidden or not found is no fault of ours
        "weasyprint": {"level": "ERROR"},
        "fontTools": {"level": "ERROR"},
    },
}

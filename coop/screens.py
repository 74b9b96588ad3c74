"""Serves the built screens of frontend/dist: every address of a screen answers with the same page."""

from django.conf import settings
from django.http import HttpResponse
from whitenoise.middleware import WhiteNoiseMiddleware

SERVERS_OWN = ("/api/", "/admin/", "/static/", "/q/", "/calendar/")
NOT_BUILT = "The screens are not built: run `manage.py demo`, or `npm ci && npm run build` in frontend/.\n"


def is_screen(path):
    """Whether an address names a screen: not the server's own, and no file (a missing file stays missing)."""
    return not path.startswith(SERVERS_OWN) and "." not in path.rpartition("/")[2]


def caching(headers, path, url):
    """Files named by their content are kept for ever, the rest (page, worker, manifest) is asked for anew."""
    if not url.startswith(("/assets/", "/static/")):
        headers["Cache-Control"] = "no-cache"


class Screens(WhiteNoiseMiddleware):
    def __init__(self, get_response):
        super().__init__(get_response)
        if settings.SCREENS.is_dir():
            self.add_files(settings.SCREENS)
            # Browsers ask for this by themselves wherever a page names no icon: that of the tables does not.
            self.files["/favicon.ico"] = self.files.get("/icon-192.png")

    def __call__(self, request):
        if not is_screen(request.path_info):
            return super().__call__(request)
        page = self.files.get("/index.html")
        if page is None:
            return HttpResponse(NOT_BUILT, status=503, content_type="text/plain; charset=utf-8")
        return self.serve(page, request)

"""A buyer's page: whoever holds its link reads a quote without an account, accepts, declines or asks.

Made here, without a script. Looking changes nothing; what changes something is sent by a form and answered
with the way back, so that a page that is loaded again sends nothing again. The link alone lets in, and no
other site knows it: there is no cookie that a stranger's form could misuse, so none is checked.
"""

from math import isfinite

from django.conf import settings
from django.http import HttpResponse, HttpResponseNotAllowed, HttpResponseRedirect
from django.template.loader import render_to_string
from django.utils import timezone

from api.callers import limit
from api.quote_sheet import sheet_of, told_only
from api.quote_words import LANGUAGES, Speech
from coop.errors import Conflict, Gone, Invalid, NotFound, NotSafe, TooMany
from coop.selectors.quotes import quote_behind
from coop.services.quotes_answered import accept_quote, ask, decline_quote
from coop.services.secret_links import digest_of

MOST_NAME, MOST_TEXT = 120, 500
HEADERS = {
    "Cache-Control": "no-store",
    "Referrer-Policy": "no-referrer",
    "X-Robots-Tag": "noindex, nofollow",
}
STATUS = {"revoked": 410}
SEE_OTHER = 303


class Refused(Exception):
    """What a form is told when it is sent wrongly: a word of the catalogue, and its values."""

    def __init__(self, name, status=400, **values):
        super().__init__(name)
        self.name, self.status, self.values = name, status, values


def page(request, secret):
    """The quote, and with ?kg= what so many kilograms cost."""
    if request.method not in ("GET", "HEAD"):
        return HttpResponseNotAllowed(["GET", "HEAD"])
    return guarded(request, secret, lambda quote: shown(quote, kg=kilograms(request.GET.get("kg"))))


# Only so that a form sent here by mistake is told so: nothing is changed by it.
page.csrf_exempt = True


def answering(act):
    """A view of a form: it does one thing with the quote, and sends back to its page."""

    def view(request, secret):
        if request.method != "POST":
            return HttpResponseNotAllowed(["POST"])
        return guarded(request, secret, lambda quote: done(request, secret, quote))

    def done(request, secret, quote):
        limit("quote-answers").spend(request)
        try:
            act(request.POST, secret)
        except Refused as refused:
            return failed(secret, refused, kilograms(request.POST.get("kg")))
        answer = HttpResponseRedirect(request.path_info.rsplit("/", 2)[0] + "/", headers=HEADERS)
        answer.status_code = SEE_OTHER
        return answer

    view.csrf_exempt = True
    return view


def guarded(request, secret, respond):
    """The answer for a quote that a link opens; who tries many that open nothing has to wait."""
    try:
        with limit("quote-links").counting_failures(request, NotFound):
            quote = quote_behind(digest_of(secret), timezone.now())
        return respond(quote)
    except NotFound:
        return plain(request, "unknown", 404)
    except TooMany as many:
        answer = plain(request, "wait", 429, minutes=-(-many.seconds // 60))
        answer["Retry-After"] = str(many.seconds)
        return answer


def accepting(sent, secret):
    kg, name = kilograms(sent.get("kg")), line(sent, "name", MOST_NAME)
    if kg is None:
        raise Refused("failed.kg")
    if not name:
        raise Refused("failed.name")
    try:
        accept_quote(secret=secret, kg=kg, name=name)
    except Gone as gone:
        word = "failed.gone" if gone.left_kg else "failed.gone.all"
        raise Refused(word, 409, kg=gone.left_kg) from gone
    except NotSafe as unsafe:
        raise Refused("failed.not_safe", 409) from unsafe
    except Conflict as late:
        raise Refused("failed.not_now", 409) from late
    except Invalid as wrong:
        # Whatever else became wrong since it was issued, no form can mend.
        if wrong.problems[0].field != "kg":
            raise Refused("failed.not_now", 409) from wrong
        raise Refused("failed.kg") from wrong


def declining(sent, secret):
    try:
        decline_quote(secret=secret, note=line(sent, "note", MOST_TEXT))
    except Conflict as late:
        raise Refused("failed.not_now", 409) from late


def asking(sent, secret):
    text = line(sent, "text", MOST_TEXT)
    if not text:
        raise Refused("failed.text")
    try:
        ask(secret=secret, text=text)
    except Conflict as many:
        raise Refused("failed.many", 409) from many


accept, decline, question = answering(accepting), answering(declining), answering(asking)


def kilograms(text):
    """What somebody typed, with a point or a comma; None where it is no number."""
    try:
        kg = float((text or "").strip().replace(",", "."))
    except ValueError:
        return None
    return kg if isfinite(kg) else None


def line(sent, name, most):
    """What somebody wrote, in one line and without what nobody sees."""
    text = " ".join("".join(letter if letter.isprintable() else " " for letter in sent.get(name, "")).split())
    if len(text) > most:
        raise Refused("failed.long")
    return text


def shown(quote, *, kg=None, failure=None):
    """The page of a quote as it stands, seen from its own address or from that of a form of it."""
    sheet = sheet_of(quote, kg=kg, failure=failure)
    status = failure.status if failure else STATUS.get(quote.shown_state, 200)
    return written(sheet | {"here": "../" if failure else "./"}, status)


def failed(secret, refused, kg):
    """The quote anew: whatever was refused, it may be another one by now."""
    return shown(quote_behind(digest_of(secret), timezone.now()), kg=kg, failure=refused)


def plain(request, name, status, **values):
    """A page without a quote, in the language that the browser asks for first, of those that are here."""
    wanted = request.headers.get("Accept-Language", "").split(",")
    known = [tag.split(";")[0].strip()[:2].lower() for tag in wanted]
    language = next((tag for tag in known if tag in LANGUAGES), settings.LANGUAGE_CODE)
    return written(told_only(Speech(language), name, **values), status)


def written(sheet, status):
    return HttpResponse(render_to_string("quote.html", sheet), status=status, headers=HEADERS)

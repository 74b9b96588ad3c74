"""What every answer tells a browser, beside the policy of django-csp: what no page of ours needs is off."""

# Every answer carries them, paid for by the byte: these are what a stranger would want of a phone.
OFF = ("camera", "geolocation", "microphone", "payment", "usb")
HEADERS = {
    "Permissions-Policy": ", ".join(f"{name}=()" for name in OFF),
    "Cross-Origin-Resource-Policy": "same-origin",
    # Django's own security middleware says these, too, but not where it refuses a request itself.
    "Cross-Origin-Opener-Policy": "same-origin",
    "Referrer-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}


def security_headers(get_response):
    """Middleware: adds them where an answer does not say otherwise itself."""

    def answer(request):
        response = get_response(request)
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        return response

    return answer

from rest_framework.negotiation import BaseContentNegotiation


class OneForm(BaseContentNegotiation):
    """An answer that has one form comes in it, whatever the program says that it likes best."""

    def select_parser(self, request, parsers):
        return next((one for one in parsers if one.media_type == media_type_of(request)), None)

    def select_renderer(self, request, renderers, format_suffix=None):
        return renderers[0], renderers[0].media_type


def media_type_of(request):
    """What was sent, without what is said of it: text/csv of `text/csv; charset=utf-8`."""
    return (request.content_type or "").partition(";")[0].strip().lower()

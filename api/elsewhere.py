"""What the interface answers the same holder at another address: who may see what is that view's affair."""

from django.urls import resolve


def response_at(request, address, query=""):
    """The response, not yet rendered, to a GET of this address with the token and the language of a request.

    request   Django's own  of whoever asks; what it carries in its body is left alone
    address   str           path without its query
    query     str           such as "on=2026-03-02"

    Returns a response; its status says where it is refused.
    Raises Resolver404 for an address that is none of ours.
    """
    environment = {"PATH_INFO": address, "QUERY_STRING": query, "REQUEST_METHOD": "GET"}
    view = resolve(address)
    return view.func(type(request)({**request.environ, **environment}), *view.args, **view.kwargs)

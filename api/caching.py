"""Several people hold one phone: what a browser or a proxy keeps is for who asked, and for nobody else."""

from django.utils.cache import patch_cache_control, patch_vary_headers


def personal_answers(get_response):
    """Middleware: answers of the interface differ by who asks, and no proxy keeps those to a token."""

    def answer(request):
        response = get_response(request)
        if request.path_info.startswith("/api/"):
            patch_vary_headers(response, ["Authorization"])
            if "Authorization" in request.headers:
                patch_cache_control(response, private=True, no_cache=True)
        return response

    return answer

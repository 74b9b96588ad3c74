"""Everything that a phone keeps for its holder, in one answer; after that what changed since."""

from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.kept_documents import documents_for
from api.kept_question import KeptQuestion
from api.kept_shortened import shortened
from api.question import read
from api.roles import MEMBERS
from coop.services.kept import give

# It is all that a person has: the phone keeps it locked, so its browser keeps no second copy in the open.
HEADERS = {"Cache-Control": "no-store"}


DOCUMENT = """whole as {path, value}, or what is new of it as {path, head, like, rows, order}: `head` has
parts that changed, besides rows; `rows` those that are new or changed; `order` the id, slug or code of each
row where that is another; `like` the path of the answer that it builds on where that is not its own. Inside,
a long list of numbers stands as {_by, _steps}: sums of the steps, divided by `_by`; a long list of objects
with equal keys as {_columns}: a list for each key."""


class KeptOut(serializers.Serializer):
    since = serializers.CharField(
        allow_null=True, help_text="the cursor that this builds on; null: everything is here"
    )
    cursor = serializers.CharField(help_text="to be sent as `since` next time")
    documents = serializers.ListField(child=serializers.JSONField(), help_text=DOCUMENT)
    gone = serializers.ListField(child=serializers.CharField(), help_text="paths that the phone drops")

    example = {
        "since": "m3Zr0c1d7H2k",
        "cursor": "Qk9v5tYb1x0A",
        "documents": [
            {
                "path": "/api/v1/lots/?page_size=100",
                "head": {"count": 2},
                "order": ["7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c13", "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c12"],
                "rows": [{"id": "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c13", "mass_kg": 20.0}],
            }
        ],
        "gone": ["/api/v1/lots/7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c14/"],
    }


class Kept(APIView):
    """All that this phone keeps for its holder, or with `since` only what changed; 304 where nothing did."""

    may = {"GET": MEMBERS}
    question = KeptQuestion
    output = KeptOut

    def get(self, request):
        asked, now = read(KeptQuestion, request), timezone.now()
        documents = documents_for(request, asked, now)
        given = give(token=request.auth, documents=documents, since=asked.get("since"), at=now)
        # The cursor names what the phone has by then, so it is what tells whether that has changed.
        answer = given._asdict() | {"documents": [shortened(one) for one in given.documents]}
        return Response(answer, headers=HEADERS | {"ETag": f'"{given.cursor}"'})

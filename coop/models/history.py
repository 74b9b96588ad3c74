"""What every change of a dated figure leaves behind: the row as it was from then on, by whom, and why."""

from django.db.models import Exists, OuterRef, Q
from simple_history.manager import HistoricalQuerySet
from simple_history.models import HistoricalRecords, HistoricForeignKey

from coop.models.columns import Text, Wordless
from coop.models.ownership import PartOfOwned

NOTE_LENGTH = 500


class HistoricLink(Wordless, HistoricForeignKey):
    """From a part to its whole, so that a whole of once finds its parts of once."""


class KeptRows(HistoricalQuerySet):
    def latest_of_each(self):
        """The last record of each row; of two at one instant the one that was written later."""
        same_row = Q(**{self._pk_attr: OuterRef(self._pk_attr)})
        later = Q(history_date__gt=OuterRef("history_date")) | Q(
            history_date=OuterRef("history_date"), history_id__gt=OuterRef("history_id")
        )
        return self.filter(~Exists(self.filter(same_row, later)))


class Kept(PartOfOwned):
    """One record of a history. It points at rows that may be gone, so it is reached by the way of its row."""

    key_fields = ("history_id",)

    class Meta:
        abstract = True


class History(HistoricalRecords):
    """Records who changed a row (a Member), when and why; a service sets that on the row before it saves.

    `_history_user` is the member, `_history_date` the instant, `_change_reason` her note.
    """

    def __init__(self, **options):
        super().__init__(
            bases=(Kept,),
            user_model="coop.Member",
            get_user=lambda **_: None,
            history_change_reason_field=Text("note", max_length=NOTE_LENGTH, null=True, blank=True),
            historical_queryset=KeptRows,
            **options,
        )

    def get_extra_fields(self, model, fields):
        found = super().get_extra_fields(model, fields)
        # Nobody is named where a command or a migration wrote the row.
        found["history_user"].blank = True
        return {**found, "owned_through": model.owned_through}

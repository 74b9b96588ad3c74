from coop.admin.tables import KeptRows
from coop.models import BillLine, Share, Stability


class BillLineRows(KeptRows):
    model = BillLine


class ShareRows(KeptRows):
    model = Share


class StabilityRows(KeptRows):
    model = Stability

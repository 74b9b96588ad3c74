from tests.api.dated_scene import clock, shore

__all__ = ["clock", "shore"]


def test_a_buyer_without_a_limit_that_counts_says_so(shore):
    shore.buyer.limits.all().delete()
    shown = shore.ask("buyers/market/")[1]
    assert (shown["limit_kind"], shown["limit_value"]) == (None, None)
    assert shore.ask("buyers/", limit_kind="core_c")[1]["count"] == 0

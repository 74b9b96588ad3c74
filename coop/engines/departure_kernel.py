"""Compiled search, draw by draw, for the last hour at which a carton still arrives hard."""

import numpy as np

from coop.engines.conduction_kernel import compiled


@compiled
def bracket(nodes, value):
    """Index and weight that place a value between two nodes; beyond the ends the end counts."""
    last = len(nodes) - 1
    if last == 0:
        return 0, 0.0
    k = min(max(np.searchsorted(nodes, value, side="right") - 1, 0), last - 1)
    weight = (value - nodes[k]) / (nodes[k + 1] - nodes[k])
    return k, min(max(weight, 0.0), 1.0)


@compiled
def hold_by_wait(hold, travel_nodes, deviation_nodes, travel, deviation, out):
    """Hold s of one draw for each wait: by travel time and by how well the wall conducts."""
    r, fr = bracket(travel_nodes, travel)
    k, fk = bracket(deviation_nodes, deviation)
    r_up, k_up = min(r + 1, len(travel_nodes) - 1), min(k + 1, len(deviation_nodes) - 1)
    for w in range(hold.shape[0]):
        slow = hold[w, r_up, k] + fk * (hold[w, r_up, k_up] - hold[w, r_up, k])
        fast = hold[w, r, k] + fk * (hold[w, r, k_up] - hold[w, r, k])
        out[w] = fast + fr * (slow - fast)


@compiled
def hold_after(wait, wait_nodes, holds):
    """Hold s after a wait, straight between the nodes."""
    w, fw = bracket(wait_nodes, wait)
    up = min(w + 1, len(wait_nodes) - 1)
    return holds[w] + fw * (holds[up] - holds[w])


@compiled
def next_node(wait, wait_nodes):
    """The next wait at which the hold bends; the last node after it."""
    for node in wait_nodes:
        if node > wait:
            return node
    return wait_nodes[-1]


@compiled
def last_hard_wait(first, onward, wait_nodes, holds, opens, closes, deadline):
    """Longest wait s up to which every shorter one, from `first` on, still arrives hard; −inf if none does.

    Between a node, an opening and a closing the spare time runs straight, so the hour is found, not searched.
    """
    k = np.searchsorted(closes, first + onward, side="left")
    if k == len(closes):
        return -np.inf
    wait = first
    spare = min(hold_after(wait, wait_nodes, holds), deadline) - max(wait + onward, opens[k])
    if spare < 0.0:
        return -np.inf
    is_shut = wait + onward < opens[k]
    while True:
        turn = (opens[k] if is_shut else closes[k]) - onward
        ahead = min(turn, next_node(wait, wait_nodes))
        if ahead <= wait:
            # Longer waits were not run, so nothing is promised of them.
            return wait
        handed_over = opens[k] if is_shut else ahead + onward
        left = min(hold_after(ahead, wait_nodes, holds), deadline) - handed_over
        if left < 0.0:
            return wait + spare / (spare - left) * (ahead - wait)
        wait, spare = ahead, left
        if ahead < turn:
            continue
        if not is_shut:
            k += 1
            if k == len(closes):
                return wait
            spare = min(hold_after(wait, wait_nodes, holds), deadline) - opens[k]
            if spare < 0.0:
                return wait
        is_shut = not is_shut


@compiled
def last_hard_waits(
    first,
    onward,
    travel,
    deviation,
    wait_nodes,
    travel_nodes,
    deviation_nodes,
    hold,
    opens,
    closes,
    deadline,
    out,
):
    """last_hard_wait of every draw."""
    holds = np.empty(len(wait_nodes))
    for i in range(len(travel)):
        hold_by_wait(hold, travel_nodes, deviation_nodes, travel[i], deviation[i], holds)
        out[i] = last_hard_wait(first, onward[i], wait_nodes, holds, opens, closes, deadline)


@compiled
def holds_after(wait, travel, deviation, wait_nodes, travel_nodes, deviation_nodes, hold, out):
    """Hold of every draw after its own wait."""
    holds = np.empty(len(wait_nodes))
    for i in range(len(travel)):
        hold_by_wait(hold, travel_nodes, deviation_nodes, travel[i], deviation[i], holds)
        out[i] = hold_after(wait[i], wait_nodes, holds)


@compiled
def softened_at(handed_over, travel, deviation, travel_nodes, deviation_nodes, softened, reading_step, out):
    """Softened share of every draw at hand-over; readings end where all is soft, and later all stays soft."""
    last = softened.shape[2] - 1
    for i in range(len(travel)):
        r, fr = bracket(travel_nodes, travel[i])
        k, fk = bracket(deviation_nodes, deviation[i])
        r_up, k_up = min(r + 1, len(travel_nodes) - 1), min(k + 1, len(deviation_nodes) - 1)
        at = handed_over[i] / reading_step
        if not at < last:
            out[i] = 1.0
            continue
        m = int(at)
        fm = at - m
        slow = blend(softened[r_up, k], softened[r_up, k_up], fk, m, fm)
        fast = blend(softened[r, k], softened[r, k_up], fk, m, fm)
        out[i] = fast + fr * (slow - fast)


@compiled
def blend(low, high, weight, m, fraction):
    """Two curves read between two instants and mixed."""
    at_low = low[m] + fraction * (low[m + 1] - low[m])
    at_high = high[m] + fraction * (high[m + 1] - high[m])
    return at_low + weight * (at_high - at_low)

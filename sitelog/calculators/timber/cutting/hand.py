"""Cutting plans as a saw bench makes them, and what all plans share: pieces taken off, pieces over, sticks told."""

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from math import ceil

from sitelog.calculators.timber.cutting.order import NEW, Cutting, Order, Pattern, Plan, Sawn


def alone(order: Order) -> Iterator[Cutting]:
    """Each piece by itself, as often as each stick to buy holds it."""
    for place, (count, width) in enumerate(zip(order.counts, order.widths, strict=True)):
        for room in order.rooms:
            if room >= width:
                yield Cutting(((place, min(count, room // width)),))


def hand_plan(order: Order) -> Plan:
    """The best of the plans that need no solver; bounded by what the pieces take of the sticks that give most."""
    cuttings = min(by_hand(order), key=order.total)
    wanted = sum(width * count for width, count in zip(order.widths, order.counts, strict=True))
    new = wanted - sum(room * count for room, count in zip(order.site_rooms, order.site_counts, strict=True))
    cheapest = min(zip(order.costs, order.rooms, strict=True), key=lambda each: Fraction(*each))
    bound = max(0, ceil(Fraction(*cheapest) * new / order.step)) * order.step
    cost = order.total(cuttings)
    return Plan(tuple(sawn(order, cuttings)), cost, bound, least=cost <= bound)


def fullest(order: Order, wanted: Sequence[int], left: Sequence[int]) -> list[Cutting]:
    """Each stick with the longest piece that is wanted, and with what fills the rest of it best; on site first."""
    rest, cuttings = list(wanted), []
    on_site = [site for site, count in enumerate(left) for _ in range(count)]
    while any(rest):
        longest = next(place for place, count in enumerate(rest) if count)
        room = max(order.rooms)
        here = next((site for site in on_site if order.site_rooms[site] >= order.widths[longest]), NEW)
        if here != NEW:
            on_site.remove(here)
            room = order.site_rooms[here]
        rest[longest] -= 1
        more = _fill(order, rest, room - order.widths[longest])
        rest[longest] += 1
        counts = Counter(dict(more)) + Counter({longest: 1})
        cuttings.append(take(rest, Cutting(tuple(sorted(counts.items())), here)))
    return cuttings


def _fill(order: Order, rest: Sequence[int], room: int) -> Pattern:
    """What fills that room best, of the rest, with long pieces before short ones; sums are bits of a whole number."""
    sums, before, within = 1, [], (1 << room + 1) - 1
    for place in reversed(range(len(rest))):
        for _ in range(min(rest[place], room // order.widths[place])):
            before.append((place, sums))
            sums |= sums << order.widths[place] & within
    filled, counts = sums.bit_length() - 1, Counter[int]()
    for place, without in reversed(before):
        if filled >= order.widths[place] and without >> filled - order.widths[place] & 1:
            counts[place] += 1
            filled -= order.widths[place]
    return tuple(sorted(counts.items()))


def by_hand(order: Order) -> list[list[Cutting]]:
    """Plans as a saw bench makes them: from each length of stick that takes the longest piece, from all, and filled."""
    fitting = [room for room in order.rooms if room >= order.widths[0]]
    choices = [*((room,) for room in fitting), order.rooms]
    longest = [longest_first(order, order.counts, order.site_counts, rooms) for rooms in choices]
    return [*longest, fullest(order, order.counts, order.site_counts)]


def longest_first(order: Order, wanted: Sequence[int], on_site: Sequence[int], rooms: Sequence[int]) -> list[Cutting]:
    """The longest piece that still goes in, stick by stick: those on site first, then new ones of those rooms, each
    time the one that is cheapest for what goes in."""
    rest, cuttings = list(wanted), []
    for site, count in enumerate(on_site):
        for _ in range(count):
            if pattern := _filled(order, rest, order.site_rooms[site]):
                cuttings.append(take(rest, Cutting(pattern, site)))
    while any(rest):
        patterns = filter(None, (_filled(order, rest, room) for room in rooms))
        tried = [Cutting(pattern) for pattern in patterns]
        best = min(tried, key=lambda cutting: order.cost(cutting) / order.width(cutting.pattern))
        cuttings.append(take(rest, best))
    return cuttings


def _filled(order: Order, rest: Sequence[int], room: int) -> Pattern:
    """What goes in of the rest."""
    pattern = []
    for place, width in enumerate(order.widths):
        if rest[place] and width <= room:
            count = min(rest[place], room // width)
            pattern.append((place, count))
            room -= count * width
    return tuple(pattern)


def take(rest: list[int], cutting: Cutting) -> Cutting:
    """The cutting without what is wanted no more, taken off `rest`."""
    kept = tuple((place, min(count, rest[place])) for place, count in cutting.pattern if rest[place])
    for place, count in kept:
        rest[place] -= count
    return Cutting(kept, cutting.site)


def exact(order: Order, cuttings: Iterable[Cutting]) -> list[Cutting]:
    """The same sticks without the pieces that are over, taken out of the most wasteful; none if any is wanting."""
    rest = list(order.counts)
    ranked = sorted(cuttings, key=lambda cutting: (order.cost(cutting) / order.width(cutting.pattern), cutting))
    kept = [taken for cutting in ranked if (taken := take(rest, cutting)).pattern]
    if any(rest):
        return []
    return kept


def sawn(order: Order, cuttings: Iterable[Cutting]) -> Iterator[Sawn]:
    """Those on site first, each pattern from the shortest that holds it, then the longest; alike ones together."""
    told = [Sawn(order.stick(one), _pieces(order, one.pattern), one.site != NEW) for one in cuttings]
    here = tightest((one for one in told if one.on_site), order.kerf, order.on_site)
    found = [*here, *(one for one in told if not one.on_site)]
    return iter(sorted(found, key=lambda one: (one.on_site, one.stick, one.pieces), reverse=True))


def tightest(
    sticks: Iterable[Sawn], kerf: int, on_site: Mapping[int, int], paid_for: Mapping[int, int] | None = None
) -> Iterator[Sawn]:
    """The same pieces, each stick's from the shortest on site that holds them; then of those that are paid for.

    Those that take most are given a stick first: whatever holds them holds all that come after, so there is always one.
    """
    shelves = [(True, sorted(Counter(on_site).elements())), (False, sorted(Counter(paid_for or {}).elements()))]
    for need, one in sorted((sum(one.pieces) + kerf * (len(one.pieces) - 1), one.pieces) for one in sticks)[::-1]:
        here, shelf = next((here, shelf) for here, shelf in shelves if shelf and shelf[-1] >= need)
        yield Sawn(shelf.pop(bisect_left(shelf, need)), one, here)


def _pieces(order: Order, pattern: Pattern) -> tuple[int, ...]:
    return tuple(order.pieces[place] for place, count in pattern for _ in range(count))

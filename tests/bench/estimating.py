"""How well estimates learn from past cards, on simulated shops; run with python -m tests.bench.estimating.

Each shop's rules are off by a log-normal factor of their own (spread 0.35), each card by another (0.25), and
2 % of the clocks run on overnight. The error of the expected time is set beside that of the best estimator
there can be, which knows those spreads and which clocks ran on; and it is counted how many further cards fall
within the 8-in-10 band of their estimate. Both readings of the book are tried: as a mean, and as a middle.
"""

from random import Random
from time import perf_counter

from tests.estimating.making import asked, card
from tests.estimating.shops import errors, held, simulated
from tracker.estimating.learning import learn

SHOPS, FURTHER = 400, 25
SEED = 20_260_302


def main() -> None:
    """Prints a line for each number of past cards."""
    print(f"{SHOPS} shops, {FURTHER} further cards each, seed {SEED}")
    print("past cards  book is a   error   best   over the best   band holds   asked about")
    for cards in (0, 10, 20, 50, 200):
        for mean_one in (True, False):
            random = Random(SEED + cards)
            began = perf_counter()
            pairs = [
                (shop, learn(shop.jobs))
                for shop in (simulated(random, cards, mean_one=mean_one) for _ in range(SHOPS))
            ]
            took_s = perf_counter() - began
            ours, best = errors(pairs)
            inside = sum(held(shop, learned, random, FURTHER) for shop, learned in pairs)
            doubts = sum(len(learned.doubts) for _, learned in pairs) / max(1, cards * SHOPS)
            print(
                f"{cards:10d}  {'mean' if mean_one else 'middle':9s}{ours:8.4f} {best:6.4f}"
                f"{(ours / best - 1) * 100:13.1f} %{inside * 100 / SHOPS / FURTHER:11.1f} %"
                f"{doubts * 100:12.1f} %   ({took_s:.1f} s to make and learn)"
            )
    nothing = learn(())
    same = card(asked("splice-butt", "seat", joints="3"))
    print("without past cards every factor is", nothing.of("splice-butt"))
    print("and an estimate is", same.minutes, (same.band.low, same.band.high))


if __name__ == "__main__":
    main()

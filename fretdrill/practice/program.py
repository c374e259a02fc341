"""What a session consists of: some drills, and when it ends."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain, cycle, repeat

from fretdrill.engine.drill import Drill
from fretdrill.engine.kinds.ahead import AheadStage
from fretdrill.engine.kinds.shift import ShiftStage
from fretdrill.engine.packs import Pack
from fretdrill.engine.player import Player
from fretdrill.errors import InputError, Located, ManyFaults


@dataclass(frozen=True)
class Program:
    """Some drills, taken one after another.

    Attributes:
        title: what the session is called.
        drills: in order; each brings its own number of questions.
        count: questions in all, shared out in proportion; None for the drills' own.
        minutes: ends the session after the answer that passes them; None for by count.
    """

    title: str
    drills: tuple[Drill, ...]
    count: int | None = None
    minutes: float | None = None

    @classmethod
    def of_pack(
        cls, pack: Pack, count: int | None = None, minutes: float | None = None
    ) -> "Program":
        """Make the program of a pack."""
        return cls(pack.title, pack.drills, count, minutes)

    @property
    def length(self) -> int | None:
        """Questions in all, or None where the minutes decide."""
        if self.minutes is not None and self.count is None:
            return None
        return self.count or sum(drill.count for drill in self.drills)

    @property
    def longest(self) -> int:
        """Notes of the longest written line that is asked about; planning takes time by them."""
        stages = (stage for drill in self.drills for stage in drill.stages)
        lines = (stage.lines for stage in stages if isinstance(stage, AheadStage | ShiftStage))
        return max((len(piece.line.notes) for some in lines for piece in some.written), default=0)

    def order(self) -> Iterator[int]:
        """Yield which drill each question is from, as an index."""
        if self.length is None:
            rounds = [[index] * drill.count for index, drill in enumerate(self.drills)]
            return cycle(chain.from_iterable(rounds))
        shares = share_out(self.length, [drill.count for drill in self.drills])
        return chain.from_iterable(repeat(i, share) for i, share in enumerate(shares))

    def check(self, player: Player) -> None:
        """Make sure that every drill can be asked on a player's neck.

        Raises:
            ManyFaults: every drill that can't, and why.
        """
        faults = []
        for number, drill in enumerate(self.drills, start=1):
            try:
                drill.check(player)
            except InputError as fault:
                faults.append(Located(self.title, f"drill[{number}]", str(fault)))
        if faults:
            raise ManyFaults(faults)


def share_out(total: int, weights: list[int]) -> list[int]:
    """Share a total out in proportion to weights, by largest remainder.

    Earlier shares win ties; the shares add up to the total.
    """
    whole = sum(weights)
    shares = [total * weight // whole for weight in weights]
    remainders = [total * weight % whole for weight in weights]
    by_remainder = sorted(range(len(weights)), key=lambda i: (-remainders[i], i))
    for index in by_remainder[: total - sum(shares)]:
        shares[index] += 1
    return shares

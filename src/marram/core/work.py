"""Long work: it tells how far it is, and it can be stopped."""

from __future__ import annotations

from collections.abc import Callable

from marram.core.errors import Stopped

Listener = Callable[[str, int, int], None]
"""Called with what is being done, how much of it is done, and how much there is; 0 where that is not known."""


class Work:
    """A job that takes its time. What does the job tells how far it is; whoever waits listens, and may stop it."""

    def __init__(self, listener: Listener = lambda doing, done, whole: None) -> None:
        """Begin.

        Args:
            listener: Told how far the job is.
        """
        self._listener = listener
        self._is_stopped = False

    @property
    def is_stopped(self) -> bool:
        """Whether it was asked to stop."""
        return self._is_stopped

    def stop(self) -> None:
        """Ask it to stop; it does so the next time that it tells how far it is."""
        self._is_stopped = True

    def tell(self, doing: str, done: int = 0, whole: int = 0) -> None:
        """Say how far the job is.

        Args:
            doing: What is being done.
            done: How much of it is done.
            whole: How much of it there is; 0 where that is not known.

        Raises:
            Stopped: The job was asked to stop.
        """
        if not self._is_stopped:
            self._listener(doing, done, whole)
        if self._is_stopped:
            raise Stopped(f"Stopped while {doing}.", hint="Nothing was kept of it.")

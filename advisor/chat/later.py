"""Something that takes a moment to make: made beside the first prompt, or on the spot when it is
needed at once.
"""

from __future__ import annotations

from threading import Thread


class Later:
    """What `make` returns. Errors of `make` are raised where the value is asked for."""

    def __init__(self, make):
        self._make, self._thread, self._error = make, None, None
        self.ready, self._value = False, None

    def start(self, then):
        """Begin in a thread of its own, once; `then()` is called there at the end."""
        if self._thread is None and not self.ready:
            self._thread = Thread(target=lambda: (self._run(), then()), daemon=True)
            self._thread.start()

    def _run(self):
        try:
            self._value = self._make()
        except BaseException as error:  # told where the value is asked for
            self._error = error
        self.ready = True

    @property
    def failed(self) -> bool:
        return self._error is not None

    def value(self):
        """The thing made; waits for it."""
        if self._thread:
            self._thread.join()
        elif not self.ready:
            self._run()
        if self._error:
            raise self._error
        return self._value

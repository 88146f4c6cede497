"""A folder of its own for each test that writes."""

from pathlib import Path

import pytest


@pytest.fixture
def there(tmp_path) -> Path:
    return tmp_path

"""Two independent engines and the driver that makes them agree."""

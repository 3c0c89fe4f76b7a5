"""The client at work. Begin with `morning_intake`."""

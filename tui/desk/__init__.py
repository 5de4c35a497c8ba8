"""A visit in progress: the user's folders and settings, sessions, locks, clocks, the plain driver."""

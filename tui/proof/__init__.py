"""Holds the trees to hand-written visits: examples, what they cover, and whether a swapped row is noticed."""

"""Rebuilds the checked-in tables from the property library CoolProp, which is imported nowhere else.

``python -m tui.refrigerant.build`` writes them, ``--compare`` rebuilds and compares.
"""

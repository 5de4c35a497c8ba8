"""What the core needs for one answer, against a JSON round trip of all events the answer writes."""

from __future__ import annotations

import json
import time
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from typing import Any

from figures import Figure

from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.answers import Answers, run_answers

ROOT = Path(__file__).resolve().parents[2]
ROUNDS = 9

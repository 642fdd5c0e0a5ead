"""Mechanics: spelling, confused words, run-ons, fragments, capitals, end marks, repeated words and agreement."""

from rubric_kit.measures.mechanics.mechanics import Mechanics, mechanics

__all__ = ["Mechanics", "mechanics"]

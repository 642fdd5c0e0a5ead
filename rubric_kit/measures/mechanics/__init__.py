"""Mechanics: spelling, confused words, run-ons, fragments, capitals, end marks, repeated words and agreement."""

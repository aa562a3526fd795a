"""Chambers and crowns from the burette, decks from the depth gauge, and how alike they are."""

TITLE = "Chambers, crowns and decks"
ORDER = ("chambers", "even", "crowns", "chamber_shape", "decks", "straight", "level")

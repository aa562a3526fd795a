"""What a moved head asks of pushrods, adjusters, rockers, tubes and flanges."""

TITLE = "Pushrods and tubes"
ORDER = ("length", "adjusters", "rockers", "tubes", "flanges")

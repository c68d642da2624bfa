"""The photos of a survey: which file a typed name means, which number it gets, how it is handed over.

folder      the photo folder as a listing, and what a typed name means in it
by_name     which equipment a photo belongs to by its file name
pictures    one picture, upright, scaled and stripped of what a camera writes into it
numbered    the photos of a delivery, numbered and tied to the rows that they show
"""

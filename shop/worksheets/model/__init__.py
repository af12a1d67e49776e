"""From a sheet's readings and specification to arrays, and on through geometry: the customs post of this room.

Each part is worked out once for a sheet. What cannot be worked out says, in a sentence, what it needs.
"""

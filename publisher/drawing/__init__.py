"""Takes the pattern, the story of its assembly and its sheets, returns drawings: flat display
lists after projection and visibility, and their SVG and PNG. Reports no codes: what cannot be
drawn well is drawn as well as it can be.
"""

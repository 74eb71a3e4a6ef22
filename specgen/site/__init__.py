"""The site: pages, navigation, search, the MkDocs side, atomic publishing, preview.

Start reading at `page.py` (what goes in) and `build.py` (what is done with it).
"""

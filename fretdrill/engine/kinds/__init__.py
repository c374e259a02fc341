"""The kinds of drill, a module each; :mod:`fretdrill.engine.registry` lists them."""

"""The rules, one file each; ``ALL`` is the order in which they are run and reported."""

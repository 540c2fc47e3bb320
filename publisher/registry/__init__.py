"""Tables whose entries are loaded when they are first asked for.

Takes the places of values in modules by key, gives a mapping. A pattern that only folds does
not wait for the code of what it does not use. Reports nothing.
"""

from publisher.registry.on_demand import OnDemand

__all__ = ["OnDemand"]

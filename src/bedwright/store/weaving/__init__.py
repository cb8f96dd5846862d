"""A changed garden book written into its old text, so that comments and layout of the rest stay."""

from bedwright.store.weaving.naming import is_named_list, names_of
from bedwright.store.weaving.weave import weave

__all__ = ["is_named_list", "names_of", "weave"]

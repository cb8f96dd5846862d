"""A YAML text as the values JSON has, read by a parser that knows nothing of the schema."""

from __future__ import annotations

from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, ScalarNode, SequenceNode

_NUMBER = {"tag:yaml.org,2002:int": int, "tag:yaml.org,2002:float": float}


def plain_yaml(text: str) -> Any:
    """The document with dates left as text, as JSON would carry them."""
    return _plain(YAML(typ="safe", pure=True).compose(text))


def _plain(node: Any) -> Any:
    if isinstance(node, MappingNode):
        return {key.value: _plain(value) for key, value in node.value}
    if isinstance(node, SequenceNode):
        return [_plain(item) for item in node.value]
    assert isinstance(node, ScalarNode)
    tag = str(node.ctag or node.tag)
    if tag == "tag:yaml.org,2002:bool":
        return node.value == "true"
    return _NUMBER[tag](node.value) if tag in _NUMBER else node.value

"""The templates of a theme in, the first mistake in how they inherit out: a page or a block that is not there."""

from __future__ import annotations

from jinja2 import Environment, TemplateSyntaxError, nodes

from bookgen.render.themes import ThemeError

PAGES = (
    "index", "shutoffs", "register", "plan", "chapter", "drill", "upkeep", "materials", "papers", "takeoff", "checks",
    "reference", "walk", "later", "find", "words", "shelf",
)  # fmt: skip


def check_templates(templates: Environment, theme: str) -> None:
    """Raise ThemeError where *theme* lacks the template of a page, or fills a block that its base does not have.

    The template engine passes over such a block in silence, and the book would lack what stands in it.
    """
    there = set(templates.list_templates())
    for page in PAGES:
        if f"{page}.html" not in there:
            raise ThemeError(
                f"theme {theme}: templates/{page}.html is missing; add it, or inherit from a theme with it"
            )
    offered: dict[str, set[str]] = {}  # a base is looked through once, not for every page that extends it
    # What lies under a theme's name is an ancestor's, and counts as far as a page of this theme extends it.
    for name in sorted(one for one in there if one.endswith(".html") and "/" not in one):
        tree = _parsed(templates, theme, name)
        base = _base(tree)
        if base is None:
            continue
        if base not in there:
            raise ThemeError(f"theme {theme}: {name} extends {base}, which is not there")
        if base not in offered:
            offered[base] = _offered(templates, theme, base)
        for block in (one.name for one in tree.body if isinstance(one, nodes.Block)):
            if block not in offered[base]:
                known = ", ".join(sorted(offered[base])) or "none"
                raise ThemeError(f"theme {theme}: {name} fills the block {block}, and {base} has none; there: {known}")


def _parsed(templates: Environment, theme: str, name: str) -> nodes.Template:
    loader = templates.loader
    if loader is None:
        raise ThemeError(f"theme {theme}: it has no templates")
    try:
        return templates.parse(loader.get_source(templates, name)[0])
    except TemplateSyntaxError as wrong:
        raise ThemeError(f"theme {theme}: {name}, line {wrong.lineno}: {wrong.message}") from wrong


def _base(tree: nodes.Template) -> str | None:
    for found in tree.find_all(nodes.Extends):
        if isinstance(found.template, nodes.Const):
            return str(found.template.value)
    return None


def _offered(templates: Environment, theme: str, name: str) -> set[str]:
    """Return the names of the blocks of the template *name* and of all that it extends."""
    tree = _parsed(templates, theme, name)
    blocks = {block.name for block in tree.find_all(nodes.Block)}
    base = _base(tree)
    return blocks if base is None else blocks | _offered(templates, theme, base)

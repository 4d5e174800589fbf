"""The sink for mkdocs: hands the generated files over, touches up the theme's HTML, watches the data.

This is the only file that imports mkdocs.
"""

from __future__ import annotations

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files

from generator.author import AuthorView
from generator.build import DATA_DIR, ROOT, generate
from generator.problem import Refused
from generator.theme_html import finish_page


class GeneratorPlugin(BasePlugin):
    """Adds the almanac's generated pages, figures and exports to the site."""

    def __init__(self) -> None:
        self._author: AuthorView | None = None

    def on_startup(self, *, command: str, dirty: bool) -> None:
        if command == "serve" and dirty:
            self._author = AuthorView()

    def on_files(self, files: Files, config: MkDocsConfig) -> Files:
        shown = self._author.files if self._author else {}
        try:
            generated = self._author.refresh() if self._author else generate()
        except Refused as refused:
            count = len(refused.problems)
            raise PluginError(f"{count} problem{'s' * (count != 1)} in the data:\n{refused}") from None
        for path, content in generated.items():
            if files.get_file_from_path(path) is not None:
                raise PluginError(f"docs/{path} has the name of a generated file; rename it")
            file = File.generated(config, path, content=content)
            if shown.get(path) == content:
                file.is_modified = lambda: False  # `mkdocs serve --dirty` then leaves the page as it is
            files.append(file)
        return files

    @event_priority(-100)  # last: the policy hashes what every other plugin leaves
    def on_post_page(self, output: str, page, config: MkDocsConfig) -> str:
        return finish_page(output)

    @event_priority(-100)
    def on_post_template(self, output_content: str, template_name: str, config: MkDocsConfig) -> str:
        return finish_page(output_content) if template_name.endswith(".html") else output_content

    def on_serve(self, server, config: MkDocsConfig, builder):
        server.watch(str(DATA_DIR))
        server.watch(str(ROOT / "generator"))
        return server

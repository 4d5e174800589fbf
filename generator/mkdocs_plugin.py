"""The sink for mkdocs: hands the generated files over and touches up the theme's HTML. The only file that imports mkdocs."""

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files

from generator.author import AuthorView
from generator.build import begin
from generator.problem import Refused
from generator.set_aside import put_back, set_aside, with_words
from generator.theme_html import SHEET, finish_page


class GeneratorPlugin(BasePlugin):
    """Adds the almanac's generated pages, figures and exports to the site."""

    def on_startup(self, *, command: str, dirty: bool) -> None:
        self._author = AuthorView() if command == "serve" and dirty else None

    def on_files(self, files: Files, config: MkDocsConfig) -> Files:
        shown = self._author.files if self._author else {}
        try:
            self._begun = self._author.refresh() if self._author else begin()
        except Refused as refused:
            raise PluginError(f"the data has problems:\n{refused}") from None
        for path, content in self._begun.pages.items():
            if files.get_file_from_path(path) is not None:
                raise PluginError(f"docs/{path} has the name of a generated file; rename it")
            file = File.generated(config, path, content=content)
            if shown.get(path) == content:
                file.is_modified = lambda: False  # `mkdocs serve --dirty` then leaves the page as it is
            files.append(file)
        sheets, config.extra_css = [files.get_file_from_path(path) for path in config.extra_css], [SHEET]
        for sheet in sheets:
            files.remove(sheet)
        files.append(File.generated(config, SHEET, content="\n".join(sheet.content_string for sheet in sheets)))
        return files

    def on_post_build(self, config: MkDocsConfig) -> None:
        for path, content in self._begun.others().items():  # made by another process while the engine made the pages
            File.generated(config, path, content=content).copy_file()

    @event_priority(-100)  # last: other plugins see the page as it was written
    def on_page_markdown(self, markdown: str, page, **_: object) -> str:
        markdown, page.set_aside = set_aside(markdown)
        return markdown

    @event_priority(100)  # first: other plugins see what is there to be searched
    def on_page_content(self, html: str, page, **_: object) -> str:
        return with_words(html, page.set_aside)

    @event_priority(-100)  # last: the policy hashes what every other plugin leaves
    def on_post_page(self, output: str, page, **_: object) -> str:
        return finish_page(put_back(output, page.set_aside))

    @event_priority(-100)
    def on_post_template(self, output_content: str, template_name: str, **_: object) -> str:
        return finish_page(output_content) if template_name.endswith(".html") else output_content


"""What goes with a video: its chapters, and the words beside it."""

from __future__ import annotations

from foldwright.document.film import chapters_of, in_order, is_media
from foldwright.document.video_text import video_description
from foldwright.finding import Finding, Strength
from foldwright.outputs.model import MadeFiles, OutputSource
from foldwright.render.machine.webvtt import chapters_file


def video_files(source: OutputSource) -> MadeFiles:
    """Chapters and description. A recipe without a video has neither, and nothing is said of it unless it was asked for
    alone; one whose moments do not go together has none either, which was told already."""
    recipe, document = source.recipe, source.document
    chapters = chapters_of(document)
    if recipe.video is None or not chapters:
        if source.wish.outputs != ("video",):
            return MadeFiles()
        code = "video-without-moments" if recipe.video else "video-unnamed"
        place = recipe.video.place if recipe.video else recipe.title.place
        return MadeFiles(findings=(Finding.of(code, Strength.THOUGHT, place),))
    if not in_order(chapters, document.head.video_seconds):
        return MadeFiles()
    files = {
        "chapters.vtt": chapters_file(chapters),
        "video-description.txt": video_description(document, chapters, source.wish.systems),
    }
    page = () if is_media(recipe.video.value) else (Finding.of("video-on-page", Strength.THOUGHT, recipe.video.place),)
    return MadeFiles({name: text.encode("utf-8") for name, text in files.items()}, page)

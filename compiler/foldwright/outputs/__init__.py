"""Texts in, files out; callable without the command line.

    wish = wishes.wish_of(options.BuildOptions(only="tutorial"))
    made = compiling.compile_recipe(texts.texts_of("blue-box", text, studio_text), wish, surroundings)

`wish` is a `Wrong` when an option is; `made` has files by name, findings and notes. Above that stand the modules that
find recipes in folders and read them: `sources`, `reading` and `sizes`.
"""

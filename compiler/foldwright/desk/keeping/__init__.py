"""What is kept on disk: a recipe, its draft and its versions, whole whatever happens; whose folder it is."""

"""Pictures of what is done to paper, as scenes: the blank against the fence, the fold on its way, parts that meet."""

"""A studio's library: from the entries of many recipes to the pages and files that stand round their tutorials."""

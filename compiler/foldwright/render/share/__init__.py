"""Pictures for sharing: one link, one post, one strip of steps, as JPEG files."""

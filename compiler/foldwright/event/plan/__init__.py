"""Planning an event: what to buy, what it costs, how long the helpers need beforehand, how long the class lasts."""

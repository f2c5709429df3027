"""Templates: every piece at true size on paper, with a ruler and a card's outline to check the printer with."""

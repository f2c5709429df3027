"""How each look puts a card's page together: pure arithmetic over measured words and pictures, a module to each way."""

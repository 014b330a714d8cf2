"""The nouns that every room speaks; they lean on nothing but one another."""

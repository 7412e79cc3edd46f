"""The notation's grammar as package data; `recipe.lark` beside this file is the notation itself."""

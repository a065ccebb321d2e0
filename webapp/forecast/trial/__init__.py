"""All populations under our rules with two practitioners, and under the gentlest plan on paper, over several seeds."""

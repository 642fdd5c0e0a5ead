"""An essay becomes numbers and found items: small functions, each with its formula, unit and source."""

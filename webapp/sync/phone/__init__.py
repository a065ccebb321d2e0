"""The answers to a phone: joining, guidance, the reply of a sync."""

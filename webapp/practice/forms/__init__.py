"""What several forms share: quantities as people type them, fields that say what is wrong, entries of one meaning."""

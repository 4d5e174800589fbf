"""Citations of a stated figure, a value or a remark, and bibliographies for reference managers."""

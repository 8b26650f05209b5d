// Signing in: what was typed can be shown; a code behind "#" of a link is put into its field.

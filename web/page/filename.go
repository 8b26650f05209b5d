package page

import "strings"

// FileName is a title as the name of a file, without an ending: a to z and digits, the rest hyphens; or other, where none
// of these are in the title.
func FileName(title, other string) string {
	name := strings.Join(strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}), "-")
	if name == "" {
		return other
	}
	return strings.TrimSuffix(name[:min(len(name), 40)], "-")
}

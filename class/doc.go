// Package class holds pupils and classes: rules only, no storage.
package class

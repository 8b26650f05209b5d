package store_test

import (
	"testing"

	"steelyard/store/storetest"
)

func TestSQLite(t *testing.T) {
	storetest.Run(t, func(t *testing.T) string { return t.TempDir() })
}

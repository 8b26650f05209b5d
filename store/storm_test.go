package store_test

func storm([]string) int { return 1 }

// Package web serves the pages: it puts the rooms' routes together, checks rights in one place, and keeps limits.
package web

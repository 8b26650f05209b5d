// Package marks holds the teacher's pages for what is handed in: arrivals, the queue of decisions, release, the class picture.
package marks

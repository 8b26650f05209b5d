// Package classes holds the teacher's pages for classes and sets: lists, codes, access arrangements, sets, packs for paper.
package classes

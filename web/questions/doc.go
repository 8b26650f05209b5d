// Package questions holds the teacher's pages for questions: the bank, one's own, and the workbench.
package questions

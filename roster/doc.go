// Package roster reads lists of classes as teachers have them: names pasted from anywhere, spreadsheets saved as CSV,
// and what schools' systems write as OneRoster CSV (1.2, and 1.1). It says what it understood and what would change,
// before anything is stored.
//
// Only what the job needs is kept: a name to print, and the identifier by which the next list finds the pupil again.
// Addresses, passwords, telephone numbers, years of birth and the like are passed over while reading.
//
// Sources: 1EdTech OneRoster 1.2 CSV binding (final, June 2022), sections in brackets; OneRoster 1.1's users.csv from
// memory; OWASP ASVS 5.0.0, chapter 5 (files).
package roster

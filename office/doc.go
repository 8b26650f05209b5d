// Package office packs what office files are made of: parts in XML with every word escaped, and the zip around them.
// It knows nothing of what the parts say.
//
// The same parts give the same bytes: entries keep their order and have the time 1 January 1980.
//
// Sources: OpenDocument 1.3 part 2, 2.2 and 3.3 (the mimetype comes first, stored, without extra field); ISO/IEC 29500-2
// (content types come first: common practice); XML 1.0, 2.2 (characters that no file may hold).
package office

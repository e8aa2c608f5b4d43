// Package validation is the table of what the program is checked against: values
// that standards, handbooks and papers print, and values computed independently,
// each beside what the laws of this program give. A test holds every row within
// its tolerance and every exported law in some row; the table is written into the
// README of the folder above.
package validation

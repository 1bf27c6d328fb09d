// Package quote turns one job and its Result into the papers of an offer: the quotation for the customer,
// the internal sheet, the set-up sheet, the forms of acceptance, lists, risk notes and the survey sheet.
//
// It writes nothing itself: it builds documents and lists that the PDF, HTML and spreadsheet writers take.
// What the plant pays in a year is part of every quotation; what the offer costs its maker is only on the
// internal sheet, which is built from a type that the others never see.
package quote

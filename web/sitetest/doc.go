// Package sitetest serves the whole site on a database of its own, with an
// invented business in it, and gives tests a client for each person: answers
// are pages to look into, redirects are not followed.
package sitetest

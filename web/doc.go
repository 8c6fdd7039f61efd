// Package web serves Drawbar to people: it puts the audiences' pages behind
// one engine with sessions, error pages, security headers, limits, logs and
// measurements. The pages themselves are in board (the contractor), farmer,
// phone (the operator) and office (money and settings).
package web

package model

// mechanical is the table of the mechanical models.
var mechanical = []Spec{}

package supply

import (
	"sort"
	"strings"
	"unicode"
)

// Roles of the columns of a list.
const (
	rolePart     = "part"
	roleArticle  = "article"
	roleName     = "name"
	rolePrice    = "price"
	roleList     = "list price"
	roleTaxed    = "price with tax"
	roleCurrency = "currency"
	rolePack     = "pack"
	roleSupplier = "supplier"
	roleDated    = "dated"
	roleWas      = "converted"
)

// Roles that a user may give a column.
var Roles = []string{rolePart, roleArticle, roleName, rolePrice, roleCurrency, rolePack, roleSupplier, roleDated}

// headWithin is how many rows may stand over the heads: a title, an address, a date.
const headWithin = 25

// headWords are what the heads of columns are called, plainly written: small letters without accents. A head that is one of them
// is surely that; one that holds one of them as whole words is perhaps that.
var headWords = map[string][]string{
	rolePart:    {"part", "part id", "roombrief part", "generic part"},
	roleArticle: {"article", "article number", "article no", "article nr", "article code", "art no", "art nr", "artnr", "artikelnummer", "artikelnr", "artikel nr", "artikel", "item", "item no", "item number", "item code", "sku", "code", "product code", "stock code", "order code", "order no", "order number", "bestellnummer", "bestellnr", "best nr", "bestelnummer", "ref", "reference", "codice", "codigo", "referencia", "cat no", "catalogue number", "part number", "part no", "mpn", "ean", "gtin"},
	roleName:    {"name", "description", "product", "product name", "designation", "bezeichnung", "artikelbezeichnung", "beschreibung", "libelle", "omschrijving", "descrizione", "descripcion", "item description", "title", "text", "produkt", "produit", "descricao"},
	rolePrice: {"price", "net price", "your price", "trade price", "unit price", "cost", "net", "price each", "each", "price ex vat", "price excl vat", "price excl tax", "preis", "nettopreis", "netto", "einzelpreis", "ek", "ek preis", "ek netto",
		"prix", "prix net", "prix ht", "prix unitaire", "prix unitaire ht", "prijs", "nettoprijs", "prezzo", "prezzo netto", "precio", "precio neto", "preco"},
	roleList:     {"list price", "rrp", "retail price", "recommended price", "uvp", "listenpreis", "prix public", "adviesprijs", "prezzo di listino", "list", "was"},
	roleTaxed:    {"price inc vat", "price incl vat", "price inc tax", "price incl tax", "inc vat", "incl vat", "incl tax", "inc tax", "with tax", "with vat", "gross", "gross price", "brutto", "bruttopreis", "inkl mwst", "inkl ust", "ttc", "prix ttc", "incl btw", "iva inclusa", "iva incluido"},
	roleCurrency: {"currency", "curr", "ccy", "wahrung", "waehrung", "devise", "monnaie", "valuta", "moneda", "divisa", "moeda"},
	rolePack:     {"pack", "pack size", "pack qty", "pack quantity", "packing", "price per", "price unit", "per", "unit qty", "units per pack", "ve", "verpackungseinheit", "preiseinheit", "pe", "conditionnement", "verpakking", "confezione", "unidades"},
	roleSupplier: {"supplier", "vendor", "wholesaler", "lieferant", "fournisseur", "leverancier", "fornitore", "proveedor"},
	roleDated:    {"date", "dated", "valid from", "price date", "as of", "gultig ab", "gueltig ab", "stand", "preisstand", "datum", "date du prix", "data", "fecha"},
	roleWas:      {"converted"},
}

// roleOf is what a head says, and how surely: 3 the very words, 2 those words within others, 0 nothing known.
func roleOf(head string) (role string, sure int) {
	plain := " " + withoutCurrency(plainly(head)) + " "
	if strings.TrimSpace(plain) == "" {
		return "", 0
	}
	longest := 0
	for _, r := range rolesInOrder {
		for _, w := range headWords[r] {
			switch {
			case plain == " "+w+" ":
				return r, 3
			case len(w) > longest && len(w) > 2 && strings.Contains(plain, " "+w+" "):
				role, sure, longest = r, 2, len(w)
			}
		}
	}
	return role, sure
}

// rolesInOrder are those that have words, in a fixed order: where words are equally long, the first wins.
var rolesInOrder = func() (all []string) {
	for r := range headWords {
		all = append(all, r)
	}
	sort.Strings(all)
	return all
}()

// columnsOf gives the column of each role that the heads name; of two for a role the surer one, then the first.
func columnsOf(heads []string) map[string]int {
	at, how := map[string]int{}, map[string]int{}
	for i, h := range heads {
		if r, sure := roleOf(h); sure > how[r] {
			at[r], how[r] = i, sure
		}
	}
	return at
}

// headRow finds the row of heads: of the first rows the one that names most roles, a price among them.
func headRow(rows []record) (at int, columns map[string]int) {
	at, most := -1, 1
	for i, r := range rows[:min(len(rows), headWithin)] {
		c := columnsOf(r.fields)
		_, price := c[rolePrice]
		_, list := c[roleList]
		_, taxed := c[roleTaxed]
		if (price || list || taxed) && len(c) > most {
			at, most, columns = i, len(c), c
		}
	}
	return at, columns
}

// plainly is a text in small letters and digits, without accents, with single blanks for everything else.
func plainly(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(s) {
		if to, ok := accents[r]; ok {
			r = to
		}
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '£' && r != '€' && r != '$' {
			gap = b.Len() > 0
			continue
		}
		if gap {
			b.WriteByte(' ')
			gap = false
		}
		b.WriteRune(r)
	}
	return b.String()
}

// accents are letters of the languages of headWords without what is over and under them.
var accents = func() map[rune]rune {
	m := map[rune]rune{}
	for to, from := range map[rune]string{'a': "àáâãäå", 'c': "ç", 'e': "èéêë", 'i': "ìíîï", 'n': "ñ", 'o': "òóôõöø", 'u': "ùúûü", 's': "ß"} {
		for _, r := range from {
			m[r] = to
		}
	}
	return m
}()

package rules

// Limits lists the limits that the rule's conditions read, each once, in their order.
func (r *Rule) Limits() []string {
	limits, _ := r.figures()
	return limits
}

// Tables lists the tables that the rule's conditions look up, each once, in their order.
func (r *Rule) Tables() []string {
	_, tables := r.figures()
	return tables
}

func (r *Rule) figures() (limits, tables []string) {
	add := func(to *[]string, name string, known bool) {
		for _, n := range *to {
			known = known && n != name
		}
		if known {
			*to = append(*to, name)
		}
	}
	for _, text := range r.conditions() {
		x := r.Pack.env().expression(text)
		if x.tree == nil {
			continue
		}
		figures(x.tree, x.tree.Expr(), func(limit, table string) {
			add(&limits, limit, r.Pack.Limits[limit] != nil)
			add(&tables, table, r.Pack.Tables[table] != nil)
		})
	}
	return limits, tables
}

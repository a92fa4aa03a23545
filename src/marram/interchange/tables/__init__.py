"""Text and tables read strictly and safely: encodings, named columns, workbooks, faults told in an official's words."""

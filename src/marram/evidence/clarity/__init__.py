"""How clear a text is: officials or players rule written incidents, or act at stations, under the present text and under the draft."""

package job

import "doorwright/device"

func (r *resolver) allControllers() {
	for _, e := range r.doc.Controllers {
		path := under("controllers", e.Key)
		r.claim(e.Key, path, "a controller")
		c := r.controller(e.Key, path, e.Value)
		r.controllers[e.Key] = c
		r.job.Controllers = append(r.job.Controllers, c)
	}
}

func (r *resolver) controller(id, path string, d ControllerDoc) *Controller {
	c := &Controller{
		Fitted:  r.fit(RoleController, id, path, FittedDoc{Model: d.Model, Title: d.Title, Place: d.Place}, nil),
		Network: d.Network,
	}
	if c.Model != nil {
		c.Settings.Channels = make([]device.ChannelSettings, max(c.Model.Channels(), 1))
	}
	feed := under(path, "feed")
	if r.required(feed, d.Feed, "the supply that feeds it, such as PS1, or PS1/3 for output 3 of its board") {
		c.Feed, _ = r.feedNamed(feed, d.Feed)
	}
	return c
}
